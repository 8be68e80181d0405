import { describe, expect, it } from "vitest";
import type { Point } from "../src/index.js";
import { render } from "./support/render.js";
import { expectRelative, frames, track } from "./support/track.js";

const SPEED = 1.37;
const ALONG: readonly [Point, Point] = [
  [0, 20],
  [89, 20],
];
const BACK: readonly [Point, Point] = [
  [89, 20],
  [0, 20],
];

/** Invented: the normal of the front points `degrees` below the rows. */
function tilted(degrees: number) {
  const angle = (degrees * Math.PI) / 180;
  const heading: Point = [Math.cos(angle), Math.sin(angle)];
  const frontAt = (time: number) => 8 + SPEED * time;
  return render({ numbers: frames(40), rows: 40, columns: 90, heading, frontAt, noise: 1, seed: 5 });
}

describe("a front whose normal does not lie along the path", () => {
  // Seen lower in the picture (the right-hand side of a path to the right) such a front is behind by tan(tilt) px a
  // row, so its tilt counts negative.
  it.each([10, -10])(
    "tilted by %i degrees is measured within half a degree and warned of",
    async (degrees) => {
      for (const options of [{}, { path: ALONG }, { path: BACK }]) {
        const { tilt, codes } = await track(tilted(degrees), options);
        expect(Math.abs((tilt?.degrees ?? Number.NaN) + degrees)).toBeLessThan(0.5);
        expect(codes).toContain("front-tilted");
      }
    },
  );

  it.each([3, -3])(
    "tilted by %i degrees is measured within half a degree and not warned of",
    async (degrees) => {
      const { tilt, codes } = await track(tilted(degrees), { path: ALONG });
      expect(Math.abs((tilt?.degrees ?? Number.NaN) + degrees)).toBeLessThan(0.5);
      expect(codes).not.toContain("front-tilted");
    },
  );

  it("runs along the path faster than across itself, by the cosine of the tilt", async () => {
    const { line } = await track(tilted(10), { path: ALONG });
    expectRelative(line.slopePixelsPerFrame, SPEED / Math.cos(Math.PI / 18), 1e-3);
  });

  it("has no tilt where the width is one pixel", async () => {
    expect((await track(tilted(0), { path: ALONG, width: 1 })).tilt).toBeNull();
  });
});
