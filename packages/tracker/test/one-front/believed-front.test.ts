import { describe, expect, it } from "vitest";
import { seededNormal, seededUniform } from "../../../../test/support/seeded-normal.js";
import { type FrameSource, trackFront } from "../../src/index.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { isTakenBack } from "../../src/one-front/is-taken-back.js";
import { shareOfWidth } from "../../src/one-front/share-of-width.js";
import { readStreaks } from "../../src/streak/read-streak.js";
import { render, sourceOf } from "../support/render.js";
import { expectRelative, frames, track } from "../support/track.js";

const [ROWS, COLUMNS, FRAMES] = [24, 120, 60];

interface Spot {
  readonly column: number;
  readonly row: number;
  readonly size: number;
}

/** Invented: an even picture with noise, and spots of 2 px radius in each frame. */
function spots(inFrame: (number: number) => readonly Spot[], seed = 1): FrameSource {
  const normal = seededNormal(seed);
  return sourceOf({ numbers: frames(FRAMES), rows: ROWS, columns: COLUMNS }, (row, column, number) =>
    inFrame(number).reduce(
      (level, spot) =>
        level + spot.size * Math.exp(-((row - spot.row) ** 2 + (column - spot.column) ** 2) / (2 * 2 ** 2)),
      100 + 2 * normal(),
    ),
  );
}

/** A fragment that flies along the picture in frames 10 to 44, from column 20 to column 84.6. */
const fragment = spots((number) =>
  number < 10 || number >= 45 ? [] : [{ column: 20 + 1.9 * (number - 10), row: 9 + 0.05 * number, size: 90 }],
);

/** A bar of light 2 px wide across the picture.
 *  @param from  distance of a pixel from it, px; 0: there is none */
function bar(from: (column: number, row: number, number: number) => number, seed = 3): FrameSource {
  const normal = seededNormal(seed);
  return sourceOf({ numbers: frames(FRAMES), rows: ROWS, columns: COLUMNS }, (row, column, number) => {
    const distance = from(column, row, number);
    return 100 + (distance === 0 ? 0 : 90 * Math.exp(-(distance ** 2) / (2 * 2 ** 2))) + 2 * normal();
  });
}

const alongRow = (row: number, from = 0) =>
  ({
    path: [
      [from, row],
      [COLUMNS - 1, row],
    ],
  }) as const;

describe("what is not believed to be a front", () => {
  it("a fragment that flies past in a part of the width", async () => {
    expect(await trackFront(fragment)).toMatchObject({ status: "not-found", reason: "only-a-spot" });
  });

  it("unless a path is given that it runs from end to end", async () => {
    const path = { path: [[22, 11] as const, [83, 11] as const] as const, width: 12 };
    const { line } = await track(fragment, path);
    expectRelative(line.slopePixelsPerFrame, 1.9, 0.01);
    expect(await trackFront(fragment, { ...alongRow(11), width: 12 })).toMatchObject({
      reason: "only-a-spot",
    });
  });

  it("a bar of light over all of the width that is there along a quarter of the path only", async () => {
    const source = bar((column, _, number) => (column < 50 || column > 82 ? 0 : column - 10 - 1.9 * number));
    expect(await trackFront(source)).toMatchObject({ status: "not-found", reason: "only-a-spot" });
    const path = { path: [[50, 11] as const, [82, 11] as const] as const, width: 20 };
    expectRelative((await track(source, path)).line.slopePixelsPerFrame, 1.9, 0.02);
  });

  it.each([1, 2, 3, 4])("glints that flash here and there, seed %i", async (seed) => {
    const uniform = seededUniform(seed);
    const glints = Array.from({ length: 40 }, () => ({
      column: COLUMNS * uniform(),
      row: ROWS * uniform(),
      size: 40 + 100 * uniform(),
      begin: FRAMES * uniform(),
      life: 1 + 5 * uniform(),
    }));
    const source = spots(
      (number) => glints.filter(({ begin, life }) => number >= begin && number < begin + life),
      seed,
    );
    expect(await trackFront(source)).toMatchObject({ status: "not-found" });
  });
});

describe("what stays or fills the width is believed", () => {
  const front = {
    numbers: frames(FRAMES),
    rows: ROWS,
    columns: COLUMNS,
    frontAt: (t: number) => 4 + 1.9 * t,
  };

  it("a crack in two of 24 rows, which stays", async () => {
    const normal = seededNormal(5);
    const thin = sourceOf(front, (row, column, number) => {
      const seen = row === 11 || row === 12 ? 1 / (1 + Math.exp(-2 * (front.frontAt(number) - column))) : 0;
      return 100 + 90 * seen + 2 * normal();
    });
    expectRelative((await track(thin)).line.slopePixelsPerFrame, 1.9, 0.01);
  });

  it("a band that passes over three quarters of the width", async () => {
    const whole = render({ ...front, shape: "pulse", blurPixels: 2 });
    const normal = seededNormal(6);
    const pictures = new Map<number, (row: number, column: number) => number>();
    for await (const { number, frame } of whole.frames()) pictures.set(number, (r, c) => frame.get(r, c));
    const partly = sourceOf(front, (row, column, number) => {
      const level = row < 18 ? pictures.get(number)!(row, column) : 100;
      return level + 2 * normal();
    });
    expectRelative((await track(partly)).line.slopePixelsPerFrame, 1.9, 0.01);
  });
});

const following = {
  sign: 0,
  exposureFraction: undefined,
  isPathGiven: false,
  pause: async () => {},
} as const;
const wholeWidth = { path: [[0, 11.5] as const, [COLUMNS - 1, 11.5] as const] as const, width: ROWS };

it.each([
  ["is taken back where only a band of light passes", 8, true],
  ["is not where it stays", 1e3, false],
])("the change of a slanted front %s", async (_, longPixels, isBack) => {
  const streakOf = async (longest: number) => {
    const normal = seededNormal(4);
    const source = sourceOf(
      { numbers: frames(FRAMES), rows: ROWS, columns: COLUMNS },
      (row, column, number) => {
        const behind = 10 + 1.9 * number + 0.5 * (row - 11.5) - column;
        return 100 + (behind > 0 && behind < longest ? 90 : 0) + 2 * normal();
      },
    );
    const [streak] = await readStreaks(source, [wholeWidth], 0, FRAMES);
    return streak;
  };
  // Close about its edge both look alike; what was followed there is held against all frames.
  const found = await followDivided(await streakOf(1e3), null, following);
  expect(found.tangent).toBeCloseTo(0.5, 1);
  expect(isTakenBack(await streakOf(longPixels), found)).toBe(isBack);
});

it.each([
  [6, 0.25],
  [12, 0.5],
  [24, 1],
])("a change in %i of 24 rows covers %f of the width", async (rows, share) => {
  const normal = seededNormal(rows);
  const source = sourceOf(
    { numbers: frames(FRAMES), rows: ROWS, columns: COLUMNS },
    (row, column, number) => (row < rows && column < 2 * number ? 140 : 100) + 3 * normal(),
  );
  const [streak] = await readStreaks(source, [wholeWidth], 0, FRAMES);
  const found = await followDivided(streak, null, following);
  expect(Math.abs(shareOfWidth(streak, found)! - share)).toBeLessThan(0.02);
});
