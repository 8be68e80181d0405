import { SimpleLinearRegression, TheilSenRegression } from "ml-regression";
import { describe, expect, it } from "vitest";
import { fitPolynomial, robustLine } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";
import { seededUniform } from "./support/seeded-noise.js";

function namesOf(object: object): string[] {
  const names: string[] = [];
  for (let at: object | null = object; at && at !== Object.prototype; at = Object.getPrototypeOf(at))
    names.push(...Object.getOwnPropertyNames(at));
  return names;
}

describe("what ml-regression cannot do", () => {
  it("its straight line knows no standard errors and no covariance", () => {
    const names = namesOf(new SimpleLinearRegression([0, 1, 2, 3], [0, 1, 2, 4]));
    expect(names).toContain("slope");
    expect(names.filter((name) => /err|cov|dev|uncert|variance|resid/i.test(name))).toEqual([]);
    expect(fitPolynomial([0, 1, 2, 3], [0, 1, 2, 4], 1).covariance[1][1]).toBeGreaterThan(0);
  });

  it("its straight line makes 1504 of 1500 m/s on a clock at 100 s, where fitPolynomial is right to 1e-9", () => {
    // 200 frames at 1 MHz; t − 100 is exact in doubles, so the line is 1500 m/s in the times as they are stored
    const timeSeconds = Array.from({ length: 200 }, (_, i) => 100 + i * 1e-6);
    const positionMetres = timeSeconds.map((t) => 1500 * (t - 100));
    const raw = new SimpleLinearRegression(timeSeconds, positionMetres).slope;
    expect(Math.abs(raw - 1500)).toBeGreaterThan(3);
    expectRelative(fitPolynomial(timeSeconds, positionMetres, 1).coefficients[1], 1500, 1e-9);
  });

  it("its Theil-Sen breaks with 35 % bad points where robustLine holds", () => {
    const uniform = seededUniform(1);
    const x = Array.from({ length: 100 }, (_, i) => i);
    const y = x.map((v) => 2 * v + (v < 65 ? 0 : 200 + 1800 * uniform()));
    expect(new TheilSenRegression(x, y).slope).toBeGreaterThan(3);
    expectRelative(robustLine(x, y, { tolerance: 1 })!.slope, 2, 1e-12);
  });

  it("its Theil-Sen takes the lower of two middle slopes, where robustLine is the same in a mirror", () => {
    const x = [0, 1, 2, 3];
    // slopes of the pairs: 0.8, 0.9, 0.95, 2.9/3, 1, 1.1
    const y = [0, 1.1, 1.9, 2.9];
    expectRelative(new TheilSenRegression(x, y).slope, 0.95, 1e-12);
    const mirrored = y.map((v) => -v);
    expectRelative(new TheilSenRegression(x, mirrored).slope, -2.9 / 3, 1e-12);
    expectRelative(robustLine(x, y, { tolerance: 1 })!.slope, (0.95 + 2.9 / 3) / 2, 1e-12);
    expectRelative(robustLine(x, mirrored, { tolerance: 1 })!.slope, -(0.95 + 2.9 / 3) / 2, 1e-12);
  });
});
