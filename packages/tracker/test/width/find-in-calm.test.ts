import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { sourceOf } from "../support/render.js";
import { expectCovered, expectRelative, frames, track } from "../support/track.js";

const COLUMNS = 110;
const ROWS = 24;
const SPEED = 5.3;
const WHOLE = {
  path: [
    [0, 11.5],
    [COLUMNS - 1, 11.5],
  ],
  width: ROWS,
} as const;
const edge = (behind: number) => 1 / (1 + Math.exp(-1.2 * behind));
const front = (time: number) => SPEED * time - 12;

/** A front with noise, and what a pixel gets besides. */
function pictureOf(seed: number, beside: (row: number, column: number, time: number) => number) {
  const normal = seededNormal(seed);
  return sourceOf(
    { numbers: frames(22), rows: ROWS, columns: COLUMNS },
    (row, column, time) => 60 + 50 * edge(front(time) - column) + beside(row, column, time) + 3 * normal(),
  );
}

/** Bright spots three times the front's change that fly through the upper rows, faster than the front. */
function spots(rows: readonly number[]) {
  return (row: number, column: number, time: number) =>
    rows.reduce((sum, at, k) => {
      const along = column - (70 - 28 * k + 8.5 * (time - 2 - 3 * k));
      return sum + 150 * Math.exp(-(along ** 2 + (row - at) ** 2) / (2 * 3.2 ** 2));
    }, 0);
}

describe("a front of which half the width is disturbed", () => {
  it.each([1, 2, 3])("is that of the parts which agree, seed %i", async (seed) => {
    const found = await track(pictureOf(seed, spots([3, 6, 2, 8, 5])), WHOLE);
    expect(found.codes).toContain("band-narrowed");
    expectCovered(found, SPEED);
  });

  it("stands beside another that runs and stays in the rest of it", async () => {
    const second = (row: number, column: number, time: number) =>
      row < 9 ? 60 * edge(7.5 * time - 20 - column) : 0;
    const outcome = await trackFront(pictureOf(4, second), WHOLE);
    if (outcome.status !== "not-found") throw new Error(`expected no choice, got ${outcome.status}`);
    expect(outcome.reason).toBe("several-fronts");
    const speeds = (outcome.fronts ?? []).map(({ slopePixelsPerFrame }) => slopePixelsPerFrame);
    expect(speeds.length).toBe(2);
    expect(Math.min(...speeds.map((speed) => Math.abs(speed - SPEED)))).toBeLessThan(0.1);
    expect(Math.min(...speeds.map((speed) => Math.abs(speed - 7.5)))).toBeLessThan(0.15);
  });

  it("is none where spots alone fly", async () => {
    const normal = seededNormal(5);
    const alone = spots([3, 6, 2, 8, 5]);
    const still = sourceOf(
      { numbers: frames(22), rows: ROWS, columns: COLUMNS },
      (row, column, time) => 60 + alone(row, column, time) + 3 * normal(),
    );
    expect((await trackFront(still, WHOLE)).status).not.toBe("tracked");
  });
});

it.each([9, 10, 11, 12])(
  "a level that falls back to nothing is not taken for the front it follows, seed %i",
  async (seed) => {
    const normal = seededNormal(seed);
    const speed = 3.7;
    const seen = (behind: number) =>
      Math.exp(-Math.max(0, behind) / (4 * speed)) / (1 + Math.exp(-1.7 * behind));
    const decaying = sourceOf(
      { numbers: frames(50), rows: ROWS, columns: 180, bitDepth: 8 },
      (row, column, number) => {
        const moments = [0.05, 0.15, 0.25, 0.35, 0.45, 0.55];
        const behindAt = (moment: number) => 8 + speed * (number + moment - 3) - column;
        const mean = moments.reduce((sum, moment) => sum + seen(behindAt(moment)), 0) / moments.length;
        return 60 + 4 * Math.sin(column / 3 + row) + 90 * mean + 3 * normal();
      },
    );
    const { line } = await track(decaying, { exposureFraction: 0.6 });
    expectRelative(line.slopePixelsPerFrame, speed, 0.001);
    expect(line.standardUncertaintyPixelsPerFrame).toBeLessThan(0.001 * speed);
  },
);
