import { describe, expect, it } from "vitest";
import { type RobustLineOptions, robustLine } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";
import { seededNormal, seededUniform } from "./support/seeded-noise.js";

const count = (n: number) => Array.from({ length: n }, (_, i) => i);

describe("robustLine", () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])(
    "holds with nearly half of the points bad, 45 of 100, that form no line of their own (seed %i)",
    (seed) => {
      const [uniform, normal] = [seededUniform(seed), seededNormal(seed + 100)];
      const x = count(100);
      const bad = new Set<number>();
      while (bad.size < 45) bad.add(Math.floor(100 * uniform()));
      const y = x.map((v) => (bad.has(v) ? 600 * uniform() - 300 : 20 + 1.5 * v + 0.2 * normal()));
      const line = robustLine(x, y, { tolerance: 1 });
      // 55 points of noise 0.2 over 100: one standard deviation of the slope is 0.001
      expect(Math.abs(line!.slope - 1.5)).toBeLessThan(0.01);
      const good = x.filter((k) => !bad.has(k));
      expect(good.filter((k) => !line!.support.includes(k))).toEqual([]);
      // a bad point lies within the tolerance by a chance of 2/600 · 45 = 0.15 a draw
      expect(line!.support.length).toBeLessThanOrEqual(good.length + 2);
    },
  );

  it("names exactly the points within the tolerance", () => {
    const y = count(12).map((i) => 3 + 2 * i);
    y[4] += 0.9;
    y[7] -= 1.1;
    y[10] += 50;
    const line = robustLine(count(12), y, { tolerance: 1 });
    expect(line).toEqual({ slope: 2, intercept: 3, support: [0, 1, 2, 3, 4, 5, 6, 8, 9, 11] });
  });

  it.each([8_000, 8_001, 50_000])(
    "holds for %i points of which not all vote, where good and bad ones come by turns",
    (points) => {
      const uniform = seededUniform(points);
      const isGood = (k: number) => k % 2 === 1;
      const y = count(points).map((k) => (isGood(k) ? 5 + 0.01 * k : 5 + 0.01 * points * uniform()));
      const line = robustLine(count(points), y, { tolerance: 5e-4 * points });
      expectRelative(line!.slope, 0.01, 1e-3);
      expect(line!.support.filter(isGood)).toHaveLength(points / 2 - (points % 2) / 2);
    },
  );

  it("is the line itself for two points", () => {
    expect(robustLine([1, 3], [5, 1], { tolerance: 0.1 })).toEqual({
      slope: -2,
      intercept: 7,
      support: [0, 1],
    });
  });

  it("is null where all x are equal, and where there are fewer than two points", () => {
    expect(robustLine([4, 4, 4], [1, 2, 3], { tolerance: 1 })).toBeNull();
    expect(robustLine([4], [1], { tolerance: 1 })).toBeNull();
    expect(robustLine([], [], { tolerance: 1 })).toBeNull();
  });

  const twoFronts = {
    x: [...count(10), ...count(10)],
    y: [...count(10).map((i) => 40 * i), ...count(10).map((i) => 5 + i)],
  };

  it("takes the line whose points weigh more", () => {
    const slopeWith = (first: number, second: number) =>
      robustLine(twoFronts.x, twoFronts.y, {
        tolerance: 0.5,
        weights: [...Array(10).fill(first), ...Array(10).fill(second)],
      })!.slope;
    expect(slopeWith(2, 1)).toBe(40);
    expect(slopeWith(1, 2)).toBe(1);
  });

  it("puts no line steeper than `steepest` to the vote, and is null where all are", () => {
    const weights = [...Array(10).fill(2), ...Array(10).fill(1)];
    expect(robustLine(twoFronts.x, twoFronts.y, { tolerance: 0.5, weights, steepest: 10 })!.slope).toBe(1);
    expect(robustLine([0, 1, 2], [0, 9, 18], { tolerance: 0.5, steepest: 3 })).toBeNull();
  });

  it("flips the sign of the slope in a mirror, and moves with a shift", () => {
    const normal = seededNormal(3);
    const x = count(40);
    const y = x.map((v) => 2 * v + 0.3 * normal() + (v % 5 === 0 ? 40 * normal() : 0));
    const plain = robustLine(x, y, { tolerance: 1 })!;
    const mirrored = robustLine(
      x,
      y.map((v) => -v),
      { tolerance: 1 },
    )!;
    expectRelative(mirrored.slope, -plain.slope, 1e-12);
    expect(mirrored.support).toEqual(plain.support);
    const shifted = robustLine(
      x.map((v) => v + 1000),
      y,
      { tolerance: 1 },
    )!;
    // ordinates of 2000 are subtracted from one another: 2000 · 2.2e-16 of a y of 1
    expectRelative(shifted.slope, plain.slope, 1e-11);
    expectRelative(shifted.intercept + 1000 * shifted.slope - plain.intercept + 1, 1, 1e-9);
  });

  it("finds a line through 3,000 points, of which it lets 120 propose and 500 refine", () => {
    const normal = seededNormal(4);
    const x = count(3000);
    const y = x.map((v) => 0.02 * v + 0.1 * normal() + (v % 3 === 0 ? 30 * normal() : 0));
    const line = robustLine(x, y, { tolerance: 0.4 })!;
    expectRelative(line.slope, 0.02, 0.01);
    expect(line.support.length).toBeGreaterThan(1990);
  });

  const bad: [string, number[], number[], RobustLineOptions, string][] = [
    ["a tolerance of zero", [1, 2], [1, 2], { tolerance: 0 }, "tolerance must be > 0, got 0"],
    [
      "a limit of slope of zero",
      [1, 2],
      [1, 2],
      { tolerance: 1, steepest: 0 },
      "steepest must be > 0, got 0",
    ],
    ["lengths that differ", [1, 2], [1], { tolerance: 1 }, "y must have the length of x, 2, got 1"],
    [
      "weights of another length",
      [1, 2],
      [1, 2],
      { tolerance: 1, weights: [1] },
      "weights must have the length of x, 2, got 1",
    ],
    [
      "a negative weight",
      [1, 2],
      [1, 2],
      { tolerance: 1, weights: [1, -1] },
      "weights[1] must be finite and >= 0, got -1",
    ],
    ["x not a number", [1, Number.NaN], [1, 2], { tolerance: 1 }, "x[1] must be finite, got NaN"],
    ["y infinite", [1, 2], [1 / 0, 2], { tolerance: 1 }, "y[0] must be finite, got Infinity"],
  ];
  it.each(bad)("refuses %s, and says what was given", (_, x, y, options, message) => {
    expect(() => robustLine(x, y, options)).toThrow(RangeError);
    expect(() => robustLine(x, y, options)).toThrow(message);
  });
});
