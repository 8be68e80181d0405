import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge, wholePicture } from "../support/whole-picture.js";

const COLUMNS = 240;
const ROWS = 6;
const FRAMES = 120;
const WHOLE = wholePicture(ROWS, COLUMNS);

describe("a front whose way is bent by many times the width of its edge is one front, and said not to be even", () => {
  it.each([
    ["that slows down to a quarter", (time: number) => -6 + 4 * time - 0.0125 * time ** 2],
    ["that speeds up from rest", (time: number) => -6 + 0.02 * time ** 2],
    ["that runs fast and slow in turns", (time: number) => -6 + 2.2 * time + 14 * Math.sin(time / 8)],
  ])("one %s", async (_, at) => {
    const normal = seededNormal(3);
    const outcome = await trackFront(
      sourceOf(
        { numbers: frames(FRAMES), rows: ROWS, columns: COLUMNS },
        (_, c, time) => 80 + 60 * edge(at(time) - c) + 4 * normal(),
      ),
      WHOLE,
    );
    if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
    const { line, firstFrame, lastFrame, positions } = outcome.track;
    const mean = (at(lastFrame) - at(firstFrame)) / (lastFrame - firstFrame);
    expect(Math.abs(line.slopePixelsPerFrame - mean)).toBeLessThan(
      3 * line.standardUncertaintyPixelsPerFrame,
    );
    const codes = outcome.warnings.map(({ code }) => code);
    expect(codes.some((code) => code === "speed-not-constant" || code === "residuals-not-random")).toBe(true);
    const used = positions.filter((position) => position.used);
    const far = used.filter(({ frame, positionPixels }) => Math.abs(positionPixels - at(frame)) > 1);
    expect(used.length).toBeGreaterThan(60);
    expect(far.length).toBeLessThan(0.05 * used.length);
  });
});
