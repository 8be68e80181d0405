import { join } from "node:path";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { assembleResult } from "../src/result/assemble-result.js";
import { checkResult } from "../src/schemas/check-result.js";
import { frames, notFound, relativeDifference, settings, tracked } from "./outcomes.js";
import { renderTake, seededNormal, TWO_FRONTS, temporaryFolder } from "./render-take.js";

/** Lines as the tracker gives them, written by hand. */
const line = (slopePixelsPerFrame: number) => ({
  slopePixelsPerFrame,
  standardUncertaintyPixelsPerFrame: 0.01,
  firstFrame: 0,
  lastFrame: 3,
  fromPixels: 5,
  toPixels: 5 + 3 * slopePixelsPerFrame,
});

describe("several fronts on one path", async () => {
  const root = await temporaryFolder();

  it("give no speed without a choice; all are listed in m/s, rate times scale times pixels a frame, either way they run", async () => {
    const several = { ...notFound, reason: "several-fronts", fronts: [line(2), line(-3)] };
    const { result } = assembleResult(several, settings, frames);
    if (result.status !== "not-found") throw new Error(result.status);
    expect(result).toMatchObject({ speed: null, notFound: { reason: "several-fronts" } });
    expect(result.warnings.map(({ code }) => code)).toContain("several-fronts");
    const [first, second] = result.fronts ?? [];
    expect(relativeDifference(first.speed, 40)).toBeLessThan(1e-12);
    expect(relativeDifference(second.speed, 60)).toBeLessThan(1e-12);
    expect(relativeDifference(first.standardUncertainty, 0.2)).toBeLessThan(1e-12);
    expect(second).toMatchObject({ firstFrame: 0, lastFrame: 3, fromPixels: 5, toPixels: -4 });
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
  });

  it("one alone is not listed", () => {
    expect(assembleResult({ ...tracked, fronts: [line(2)] }, settings, frames).result).not.toHaveProperty(
      "fronts",
    );
  });

  it("the second is measured where front is 2, at the speed that is listed for it", async () => {
    // 1e5 frames a second of 0.2 mm pixels: 20 m/s for a pixel a frame, fronts of 50 m/s and 42 m/s
    const take = await renderTake(join(root, "two"), TWO_FRONTS);
    const known = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 2e-4, metresPerPixelUncertainty: 0 };
    const { result } = await measureTake(take, {
      ...known,
      path: [
        [0, 2.5],
        [63, 2.5],
      ],
      width: 6,
      front: 2,
    });
    if (result.status !== "measured") throw new Error(JSON.stringify(result));
    expect(Math.abs(result.speed.value - 42)).toBeLessThan(2 * result.speed.expandedUncertainty);
    expect(result.speed.expandedUncertainty).toBeLessThan(1);
    const [first, second] = result.fronts ?? [];
    expect(Math.abs(first.speed - 50)).toBeLessThan(4 * first.standardUncertainty);
    expect(relativeDifference(result.speed.value, second.speed)).toBeLessThan(1e-12);
    expect(result.take.front).toBe(2);
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
  });

  it("without a path the one that is chosen is followed in the direction in which it was listed, not along the rows", async () => {
    const known = { rateHz: 1e3, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };
    // Two oblique fronts, one after the other: px a frame, degrees from x towards y, frame of entry, DN.
    const early = { speed: 3, degrees: 35, start: 4, contrast: 90 };
    const late = { speed: 2.5, degrees: 160, start: 36, contrast: 40 };
    const take = { frames: obliqueFronts([early, late], { rows: 40, columns: 60, count: 72 }) };
    const { result: listed } = await measureTake(take, known);
    if (listed.status !== "not-found") throw new Error(listed.status);
    expect(listed.notFound.reason).toBe("several-fronts");
    const { result: chosen } = await measureTake(take, { ...known, front: 1 });
    if (chosen.status !== "measured") throw new Error(JSON.stringify(chosen.warnings));
    expect(chosen.shape?.measuredAlong).toBe("path");
    expect(Math.abs(chosen.speed.value / 1e3 - early.speed)).toBeLessThan(0.01 * early.speed);
    expect(chosen.fronts?.map(({ firstFrame, lastFrame }) => [firstFrame, lastFrame])).toEqual(
      listed.fronts?.map(({ firstFrame, lastFrame }) => [firstFrame, lastFrame]),
    );
  });
});

interface Oblique {
  readonly speed: number;
  readonly degrees: number;
  readonly start: number;
  readonly contrast: number;
}

/** Invented frames in which straight bright steps cross the picture, with seeded noise. */
function obliqueFronts(
  fronts: readonly Oblique[],
  { rows, columns, count }: { rows: number; columns: number; count: number },
) {
  const normal = seededNormal(5);
  const lightAt = (x: number, y: number, time: number) =>
    fronts.reduce((sum, { speed, degrees, start, contrast }) => {
      const [dx, dy] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
      const entry = Math.min(0, (columns - 1) * dx) + Math.min(0, (rows - 1) * dy);
      const behind = speed * (time - start) - (x * dx + y * dy - entry);
      return sum + contrast / (1 + Math.exp(-1.5 * behind));
    }, 60);
  const pictures = Array.from({ length: count }, (_, index) =>
    Float32Array.from(
      { length: rows * columns },
      (_, k) => lightAt(k % columns, Math.floor(k / columns), index) + 2 * normal(),
    ),
  );
  return {
    name: "invented",
    numbers: pictures.map((_, k) => k),
    rows,
    columns,
    bitDepth: 32,
    async *frames({ start = 0, end = count }: { start?: number; end?: number } = {}) {
      for (let index = start; index < end; index++)
        yield { index, number: index, frame: ndarray(pictures[index], [rows, columns]) };
    },
  };
}
