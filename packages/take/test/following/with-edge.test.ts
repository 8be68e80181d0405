import type { TrackOutcome } from "@frontpace/tracker";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { withEdge } from "../../src/following/with-edge.js";
import { measureTake } from "../../src/measure-take.js";

/** Invented: a front of this blur on a way of so many px. */
const followed = (edgeBlurPixels: number | null, way: number) =>
  ({
    status: "tracked",
    track: {
      look: edgeBlurPixels === null ? null : { edgeBlurPixels, stepToNoise: 20 },
      line: { slopePixelsPerFrame: -2 },
    },
    streak: {
      path: [
        [10, 5],
        [10 + way, 5],
      ],
    },
  }) as unknown as TrackOutcome;

describe("withEdge", () => {
  it.each([
    [20, 300],
    [4, 20],
    [null, 100],
  ])("leaves a front of blur %s px on a way of %s px as it is", (blur, way) => {
    const outcome = followed(blur, way);
    expect(withEdge(outcome, null)).toBe(outcome);
  });

  it("finds no front where the change is wider than a third of the way, and says how wide", () => {
    const outcome = withEdge(followed(10, 100), null);
    expect(outcome).toMatchObject({ status: "not-found", reason: "no-edge" });
    expect((outcome as { message: string }).message).toMatch(
      /40 px wide on a way of 100 px, .* change for 20 frames while all of it takes 50/,
    );
  });

  it("says that the front which was asked for is not seen in that direction", () => {
    const outcome = withEdge(followed(10, 100), 2);
    expect(outcome).toMatchObject({ status: "not-found", reason: "front-not-there" });
    expect((outcome as { message: string }).message).toMatch(
      /front 2 was asked for.* along the path from \(10, 5\) to \(110, 5\): .* 40 px of 100 px/,
    );
  });
});

/** Invented: 70 frames of 32 by 120 px in which a soft border passes the places that this many px of the way, 2 px a frame, are to. */
const border = (softness: number, way: (x: number, y: number) => number) => {
  const [rows, columns, count] = [32, 120, 70];
  return {
    name: "invented",
    numbers: Array.from({ length: count }, (_, k) => k),
    rows,
    columns,
    bitDepth: 32,
    async *frames({ start = 0, end = count } = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = start; index < end; index++) {
        const samples = Float32Array.from({ length: rows * columns }, (_, k) => {
          const behind = 2 * (index - 5) - way(k % columns, Math.floor(k / columns));
          return 100 + 20 * Math.tanh(behind / softness) + 2 * Math.sin(12.9898 * k + 78.233 * index ** 2);
        });
        const frame = ndarray(samples, [rows, columns])
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: index, frame };
      }
    },
  };
};

describe("a take without a path", () => {
  const known = { rateHz: 1, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };
  const toTheRight = (x: number) => x;

  it("does not measure a shadow's soft border, and measures a blurred front", async () => {
    const { result } = await measureTake({ frames: border(25, toTheRight) }, known);
    expect(result.notFound?.reason).toBe("no-edge");
    const { result: blurred } = await measureTake({ frames: border(6, toTheRight) }, known);
    expect(Math.abs(blurred.speed!.value - 2)).toBeLessThan(0.02);
  });

  it("measures what has no edge where the point is given that it runs from", async () => {
    const origin: [number, number] = [30, 16];
    const round = border(14, (x, y) => Math.hypot(x - origin[0], y - origin[1]));
    const { result: unsaid } = await measureTake({ frames: round }, known);
    expect(unsaid.notFound?.reason).toBe("no-edge");
    const { result } = await measureTake({ frames: round }, { ...known, origin });
    expect(Math.abs(result.speed!.value - 2)).toBeLessThan(result.speed!.expandedUncertainty);
    expect(Math.abs(result.speed!.value - 2)).toBeLessThan(0.1);
  });
});
