import { expect, it } from "vitest";
import type { Split } from "../../src/first-look/change-in-time.js";
import { framesAlone } from "../../src/first-look/frames-alone.js";
import { frames } from "../support/track.js";

/** Invented: strengths by the column of each change; levels do not matter here. */
const changes = (strengths: Record<number, number>): Split[] =>
  Object.entries(strengths).map(([column, strength]) => ({
    column: Number(column),
    strength,
    before: 0,
    after: 0,
  }));

/** The change down, in columns 10 and 12, of positions that came up in column 3 and have another change up at 20. */
const line = (support: readonly number[], lastsFrames: number) => ({
  frameAtOrigin: 0,
  framesPerPixel: 1,
  support,
  columns: support.map(() => [10, 12] as const),
  lastsFrames,
});
const both = frames(20).map(() => changes({ 3: 30, 10: -15, 12: -9, 20: 8 }));

it("what lasts for as long as was voted lasts for that", () => {
  expect(framesAlone(line(frames(20), Number.POSITIVE_INFINITY), both)).toBe(Number.POSITIVE_INFINITY);
  expect(framesAlone(line(frames(20), 5), both)).toBe(5);
});

it("beside another change that stays: from the middle of its own to that of the nearest of the other sense", () => {
  // 10 − 3 = 7 before, 20 − 12 = 8 after, and 2 for the change's own length
  expect(framesAlone(line(frames(20), 0), both)).toBe(9);
});

it("at some of the positions only it is of something that passes there", () => {
  expect(framesAlone(line(frames(12), 0), both)).toBe(0);
  const few = both.map((of, position) => (position < 12 ? of : []));
  expect(framesAlone(line(frames(12), 0), few)).toBe(9);
});
