import { describe, expect, it } from "vitest";
import { seededNormal } from "../../take/test/render-take.js";
import { betweenTakes } from "../src/between-takes.js";
import { chiSquaredTail } from "../src/chi-squared.js";
import { meanOfRepeats, type RepeatedSpeed } from "../src/mean-of-repeats.js";

const own = (standardUncertainty: number) =>
  ({ source: "fit", standardUncertainty, degreesOfFreedom: null, sharedAs: null }) as const;
const scale = (standardUncertainty: number, sharedAs = "scale A") =>
  ({ source: "scale", standardUncertainty, degreesOfFreedom: null, sharedAs }) as const;
const takes = (values: readonly number[], ...parts: RepeatedSpeed["parts"]): RepeatedSpeed[] =>
  values.map((value, k) => ({ name: `tile-${k}`, value, parts }));
/** Sums of few terms in double precision. */
const rounding = 1e-12;
const near = (found: number, expected: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(rounding * Math.abs(expected));

describe("betweenTakes", () => {
  it("with equal uncertainties is the analysis of variance: between² = s² − u²", () => {
    const values = [1490, 1500, 1520, 1506];
    const mean = 1504;
    const variance = values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / 3;
    const found = betweenTakes(values.map((value) => ({ value, standardUncertainty: 4 })));
    near(found.mean, mean);
    near(found.betweenStandardDeviation, Math.sqrt(variance - 16));
    near(found.standardUncertainty, Math.sqrt(variance / 4));
  });

  it("of two values with unequal uncertainties solves d²/(u₁² + u₂² + 2 between²) = 1", () => {
    const found = betweenTakes([
      { value: 1500, standardUncertainty: 3 },
      { value: 1520, standardUncertainty: 4 },
    ]);
    near(found.betweenStandardDeviation, Math.sqrt((400 - 25) / 2));
  });

  it("is the weighted mean where the uncertainties explain the differences", () => {
    const found = betweenTakes([
      { value: 1500, standardUncertainty: 3 },
      { value: 1503, standardUncertainty: 4 },
    ]);
    expect(found.betweenStandardDeviation).toBe(0);
    near(found.mean, 1500 + 3 * (1 / 16 / (1 / 9 + 1 / 16)));
    near(found.standardUncertainty, 1 / Math.sqrt(1 / 9 + 1 / 16));
  });

  it("moves with the values and stretches with them", () => {
    const values = [10, 14, 11].map((value, k) => ({ value, standardUncertainty: 0.5 + k / 4 }));
    const first = betweenTakes(values);
    const moved = betweenTakes(
      values.map(({ value, standardUncertainty: u }) => ({
        value: 3 * value + 100,
        standardUncertainty: 3 * u,
      })),
    );
    near(moved.mean, 3 * first.mean + 100);
    near(moved.betweenStandardDeviation, 3 * first.betweenStandardDeviation);
  });

  it.each([
    ["one value", [{ value: 1, standardUncertainty: 1 }]],
    [
      "an uncertainty of 0",
      [
        { value: 1, standardUncertainty: 0 },
        { value: 2, standardUncertainty: 1 },
      ],
    ],
  ])("of %s is a RangeError", (_, values) => {
    expect(() => betweenTakes(values)).toThrow(RangeError);
  });
});

describe("chiSquaredTail", () => {
  // Percentage points as printed in tables, to three decimals.
  it.each([
    [3.841, 1, 0.05],
    [5.991, 2, 0.05],
    [7.815, 3, 0.05],
    [9.488, 4, 0.05],
    [18.307, 10, 0.05],
    [6.635, 1, 0.01],
    [13.277, 4, 0.01],
    [0.711, 4, 0.95],
  ])("of %f with %i degrees of freedom is %f", (value, degrees, tail) => {
    expect(Math.abs(chiSquaredTail(value, degrees) - tail)).toBeLessThan(1e-4);
  });

  it("is 1 at 0 and falls to 0", () => {
    expect(chiSquaredTail(0, 3)).toBe(1);
    expect(chiSquaredTail(0, 4)).toBe(1);
    expect(chiSquaredTail(500, 5)).toBeLessThan(1e-90);
  });
});

describe("meanOfRepeats", () => {
  it("combines a scale that takes share once: it does not shrink with their number", () => {
    const few = meanOfRepeats(takes([1500, 1502, 1498], own(2), scale(7.5)));
    const many = meanOfRepeats(
      takes([1500, 1502, 1498, 1500, 1502, 1498, 1500, 1502, 1498], own(2), scale(7.5)),
    );
    for (const { shared } of [few, many]) {
      expect(shared).toHaveLength(1);
      near(shared[0].standardUncertainty, 7.5);
    }
    near(few.standardUncertainty, Math.hypot(7.5, 2 / Math.sqrt(3)));
    near(many.standardUncertainty, Math.hypot(7.5, 2 / 3));
  });

  it("takes scales of their own as parts of each take", () => {
    const speeds = [1500, 1502, 1498].map((value, k) => ({
      name: `tile-${k}`,
      value,
      parts: [own(2), scale(7.5, `scale ${k}`)],
    }));
    const found = meanOfRepeats(speeds);
    expect(found.shared).toEqual([]);
    near(found.standardUncertainty, Math.hypot(2, 7.5) / Math.sqrt(3));
  });

  it("two scales, each of two takes, shrink with the number of scales", () => {
    const speeds = [1500, 1502, 1498, 1500].map((value, k) => ({
      name: `tile-${k}`,
      value,
      parts: [own(2), scale(8, `scale ${k % 2}`)],
    }));
    near(meanOfRepeats(speeds).standardUncertainty, Math.hypot(2 / Math.sqrt(4), 8 / Math.sqrt(2)));
  });

  it("names the take that is apart from the others, and none that agree", () => {
    expect(meanOfRepeats(takes([1500, 1503, 1497, 1501, 1560], own(2))).disagreeing).toEqual(["tile-4"]);
    expect(meanOfRepeats(takes([1500, 1503, 1497, 1501, 1502], own(2))).disagreeing).toEqual([]);
  });

  it("of two takes that differ beyond their uncertainties names both", () => {
    expect(meanOfRepeats(takes([1500, 1530], own(2))).disagreeing).toEqual(["tile-0", "tile-1"]);
    expect(meanOfRepeats(takes([1500, 1504], own(2))).disagreeing).toEqual([]);
  });

  it.each([
    [3, 0],
    [3, 6],
    [8, 0],
    [8, 6],
  ])(
    "%i takes that scatter by 2 to 4 m/s and by %f from take to take: the 95 %% interval holds the truth in at least 93 %%",
    (count, between) => {
      const normal = seededNormal(77 + count + between);
      const runs = 2000;
      let held = 0;
      for (let run = 0; run < runs; run++) {
        const speeds = Array.from({ length: count }, (_, k) => {
          const u = 2 + (2 * k) / (count - 1);
          return { name: `${k}`, value: 1500 + between * normal() + u * normal(), parts: [own(u)] };
        });
        const { value, expandedUncertainty } = meanOfRepeats(speeds);
        if (Math.abs(value - 1500) <= expandedUncertainty) held++;
      }
      // Three standard deviations of such a count below 95 % are 93.5 %; unequal takes with a variance that is estimated lose a little more.
      expect(held / runs).toBeGreaterThanOrEqual(0.93);
    },
  );
});
