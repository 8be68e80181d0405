import { describe, expect, it } from "vitest";
import { median } from "../src/median.js";
import { seededNormal } from "./support/seeded-noise.js";

/** By definition: of sorted values the middle one, or the mean of the two in the middle. */
function bySorting(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length / 2;
  return sorted.length % 2 ? sorted[Math.floor(half)] : (sorted[half - 1] + sorted[half]) / 2;
}

describe("the median", () => {
  const normal = seededNormal(31);

  it.each([1, 2, 3, 4, 5, 8, 33, 100, 1001])(
    "of %i values is the middle one when they are sorted",
    (count) => {
      const drawn = Array.from({ length: count }, normal);
      const tied = drawn.map((value) => Math.round(2 * value));
      const rising = drawn.toSorted((a, b) => a - b);
      for (const values of [drawn, tied, rising, rising.toReversed(), [...rising, ...rising.toReversed()]])
        expect(median(values) + 0).toBe(bySorting(values) + 0);
    },
  );

  it("stands among values of any range, infinite ones as well", () => {
    const spread = Array.from({ length: 301 }, () => normal() ** 21 * 1e12);
    const infinite = spread.map((value, k) =>
      k % 50 === 0 ? Number.POSITIVE_INFINITY : k % 70 === 0 ? Number.NEGATIVE_INFINITY : value,
    );
    const widest = spread.map((value) => (value > 0 ? Number.MAX_VALUE : -Number.MAX_VALUE));
    const tiny = spread.map((value) => (value / 1e12) * Number.MIN_VALUE * 8);
    for (const values of [spread, infinite, widest, tiny, spread.map(() => 7)])
      for (const count of [300, 301])
        expect(median(values.slice(0, count)) + 0).toBe(bySorting(values.slice(0, count)) + 0);
  });

  it("leaves the values in their order", () => {
    const values = [3, 1, 2];
    median(values);
    expect(values).toEqual([3, 1, 2]);
  });

  it("is not a number of nothing, and where a value is none", () => {
    expect(median([])).toBeNaN();
    expect(median([1, Number.NaN, 2])).toBeNaN();
  });
});
