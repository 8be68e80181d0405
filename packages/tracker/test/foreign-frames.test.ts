import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { trackFront } from "../src/index.js";
import { foreignFrames } from "../src/streak/noise.js";
import { render } from "./support/render.js";
import { frames } from "./support/track.js";

const FRAMES = 16;
const POSITIONS = 60;

function streak(level: (frame: number, position: number) => number): Float64Array {
  const normal = seededNormal(6);
  return Float64Array.from(
    { length: FRAMES * POSITIONS },
    (_, at) => level(Math.floor(at / POSITIONS), at % POSITIONS) + normal(),
  );
}

const foreignIn = (level: (frame: number, position: number) => number) =>
  foreignFrames(streak(level), [FRAMES, POSITIONS], 0.3);

describe("a frame that has nothing to do with those beside it", () => {
  const surface = (position: number) => 100 + 30 * Math.sin(position / 3);

  it("is told where it is black, or of another view", () => {
    expect(foreignIn((i, p) => (i === 7 ? 0 : surface(p)))).toEqual([7]);
    expect(foreignIn((i, p) => (i === 7 ? surface(p + 9) : surface(p)))).toEqual([7]);
  });

  it("is told in the middle of a front's way, too", () => {
    expect(foreignIn((i, p) => (i === 7 ? 40 : surface(p) + (p < 4 * i ? 50 : 0)))).toEqual([7]);
  });

  it("is none that a front passes in three frames, and none under flicker", () => {
    expect(foreignIn((i, p) => surface(p) + (p < 20 * (i - 6) ? 80 : 0))).toEqual([]);
    expect(foreignIn((i, p) => surface(p) * (i === 7 ? 1.4 : 1))).toEqual([]);
  });
});

describe("frames one after the other that have nothing to do with those before and after them", () => {
  const surface = (position: number) => 100 + 30 * Math.sin(position / 3);
  const passing = (i: number, p: number) => surface(p) + (p < 4 * i ? 50 : 0);

  it("are told where they are black or white, while a front runs, too", () => {
    expect(foreignIn((i, p) => (i >= 7 && i < 10 ? 0 : passing(i, p)))).toEqual([7, 8, 9]);
    expect(foreignIn((i, p) => (i === 7 || i === 8 ? 250 : passing(i, p)))).toEqual([7, 8]);
  });

  it("are told where they are black and all else is even, but that a bright ring passes", () => {
    const ring = (i: number, p: number) => 40 + 90 * Math.exp(-0.2 * (p - 4 * i) ** 2);
    expect(foreignIn((i, p) => (i === 7 || i === 8 ? 0 : ring(i, p)))).toEqual([7, 8]);
  });

  it("are none where the light alone is weaker, where another view stays, and where they are most of the take", () => {
    expect(foreignIn((i, p) => passing(i, p) * (i >= 7 && i < 10 ? 0.7 : 1))).toEqual([]);
    expect(foreignIn((i, p) => (i < 7 ? surface(p) : 250))).toEqual([]);
    expect(foreignIn((i, p) => (i >= 4 && i < 12 ? 0 : surface(p)))).toEqual([]);
  });

  it("leave a front measured that ran behind them: 3.1 px a frame", async () => {
    const numbers = frames(30);
    const source = render({
      numbers,
      rows: 8,
      columns: 80,
      frontAt: (t) => 3.1 * (t - numbers[2]),
      light: (number) => (number >= numbers[13] && number < numbers[16] ? 0 : 1),
      noise: 2,
      step: 60,
    });
    const outcome = await trackFront(source);
    if (outcome.status !== "tracked") throw new Error(`expected a track, got ${outcome.status}`);
    const { line } = outcome.track;
    expect(outcome.warnings.map(({ code }) => code)).toContain("foreign-frames");
    expect(Math.abs(line.slopePixelsPerFrame - 3.1)).toBeLessThan(3 * line.standardUncertaintyPixelsPerFrame);
  });
});

describe("a front that crosses in three frames", () => {
  it("is measured from all three: 20.25 px a frame", async () => {
    const numbers = frames(FRAMES);
    const source = render({
      numbers,
      rows: 8,
      columns: POSITIONS,
      frontAt: (t) => 20.25 * (t - 7) + 9,
      noise: 3,
      step: 60,
    });
    const outcome = await trackFront(source);
    if (outcome.status !== "tracked") throw new Error(`expected a track, got ${outcome.status}`);
    const { line, positions } = outcome.track;
    expect(positions.map(({ frame }) => numbers.indexOf(frame))).toEqual([7, 8, 9]);
    // Student's factor of the one degree of freedom that three frames leave
    expect(Math.abs(line.slopePixelsPerFrame - 20.25)).toBeLessThan(
      12.71 * line.standardUncertaintyPixelsPerFrame,
    );
    expect(line.standardUncertaintyPixelsPerFrame).toBeLessThan(0.005 * 20.25);
  });
});
