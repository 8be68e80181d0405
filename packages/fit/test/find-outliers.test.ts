import { describe, expect, it } from "vitest";
import { findOutliers } from "../src/index.js";
import { seededNormal } from "./support/seeded-noise.js";

const residuals = (count: number, seed: number) => {
  const normal = seededNormal(seed);
  return Array.from({ length: count }, normal);
};
const ones = (count: number): number[] => Array(count).fill(1);

describe("findOutliers", () => {
  it("names exactly the planted points, in increasing order", () => {
    const r = residuals(60, 1);
    r[41] = -30;
    r[3] = 12;
    r[17] = 9;
    expect(findOutliers(r, ones(60))).toEqual([3, 17, 41]);
  });

  it("names none of 60 normal residuals", () => {
    // five standard deviations: a chance of 60 · 6e-7 = 3e-5 a series
    for (let seed = 1; seed <= 20; seed++) expect(findOutliers(residuals(60, seed), ones(60))).toEqual([]);
  });

  it("judges each residual by its own uncertainty", () => {
    const r = [0.5, -0.5, 0.4, 8, -0.6, 0.3, 8, 0.2, -0.1, 0.5];
    const u = ones(10);
    u[3] = 10;
    expect(findOutliers(r, u)).toEqual([6]);
  });

  it("names nothing below the stated uncertainties, however tight the others lie", () => {
    const r = Array.from({ length: 20 }, (_, i) => 1e-3 * (-1) ** i);
    r[5] = 4.9;
    expect(findOutliers(r, ones(20))).toEqual([]);
    r[5] = 5.1;
    expect(findOutliers(r, ones(20))).toEqual([5]);
  });

  it("measures by the scatter where it exceeds the stated uncertainties", () => {
    const r = residuals(60, 2).map((value) => 20 * value);
    r[9] = 60;
    expect(findOutliers(r, ones(60))).toEqual([]);
    r[9] = 400;
    expect(findOutliers(r, ones(60))).toEqual([9]);
  });

  it("names at most a fifth of the points, the largest", () => {
    const r = residuals(20, 3);
    [100, 300, 200, 500, 400, 600].forEach((size, k) => {
      r[2 * k] = size;
    });
    expect(findOutliers(r, ones(20))).toEqual([2, 6, 8, 10]);
  });

  it("names none of fewer than five points, of which a fifth is less than one", () => {
    expect(findOutliers([0, 0, 0, 1e9], ones(4))).toEqual([]);
    expect(findOutliers([0, 0, 1e9], ones(3))).toEqual([]);
    expect(findOutliers([], [])).toEqual([]);
    expect(findOutliers([0, 0, 0, 0, 1e9], ones(5))).toEqual([4]);
  });

  it("takes the factor it is given", () => {
    const r = [1, -1, 1, -1, 1, -1, 1, -1, 1, 4];
    expect(findOutliers(r, ones(10), 2)).toEqual([9]);
    expect(findOutliers(r, ones(10), 3)).toEqual([]);
  });

  it.each([
    [
      "lengths that differ",
      [1, 2],
      [1],
      5,
      "standardUncertainty must have the length of residuals, 2, got 1",
    ],
    ["a residual not a number", [1, Number.NaN], [1, 1], 5, "residuals[1] must be finite, got NaN"],
    ["an uncertainty of zero", [1, 2], [0, 1], 5, "standardUncertainty[0] must be > 0, got 0"],
    ["a factor of zero", [1, 2], [1, 1], 0, "factor must be > 0, got 0"],
  ])("refuses %s, and says what was given", (_, r, u, factor, message) => {
    expect(() => findOutliers(r, u, factor)).toThrow(RangeError);
    expect(() => findOutliers(r, u, factor)).toThrow(message);
  });
});
