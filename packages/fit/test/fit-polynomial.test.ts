import { describe, expect, it } from "vitest";
import { fitPolynomial, type PolynomialFitOptions } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";
import { seededNormal } from "./support/seeded-noise.js";

const count = (n: number) => Array.from({ length: n }, (_, i) => i);

/** Rounding of a well-conditioned fit of some tens of points: a hundred units in the last place. */
const ROUNDING = 2e-14;
/** What is left after a shift of 1e6 against a range of 20: 1e6 · 2.2e-16 / 20 of each abscissa, times ten. */
const SHIFTED = 1e-10;

describe("fitPolynomial", () => {
  it("finds an exact parabola and leaves no residuals", () => {
    const x = [-3, -1, 0, 2, 5, 9];
    const { coefficients, residuals, degreesOfFreedom } = fitPolynomial(
      x,
      x.map((v) => 7 - 4 * v + 0.5 * v * v),
      2,
    );
    expectRelative(coefficients[0], 7, ROUNDING);
    expectRelative(coefficients[1], -4, ROUNDING);
    expectRelative(coefficients[2], 0.5, ROUNDING);
    for (const r of residuals) expect(Math.abs(r)).toBeLessThan(1e-12);
    expect(degreesOfFreedom).toBe(3);
  });

  it("gives the variances of equally spaced points in closed form, 12 σ²/(N³ − N) for the slope", () => {
    const n = 11;
    const { covariance } = fitPolynomial(
      count(n),
      count(n).map((i) => (i % 3) * 0.1),
      1,
      { standardUncertainty: count(n).map(() => 0.3) },
    );
    const slopeVariance = (12 * 0.3 ** 2) / (n ** 3 - n);
    expectRelative(covariance[1][1], slopeVariance, ROUNDING);
    expectRelative(covariance[0][1], -slopeVariance * 5, ROUNDING);
    expectRelative(covariance[0][0], 0.3 ** 2 / n + slopeVariance * 25, ROUNDING);
  });

  it("leaves residuals orthogonal to the columns of the fit, whose squares sum to chi-squared", () => {
    const normal = seededNormal(1);
    const x = count(30).map((i) => i + 0.3 * normal());
    const y = x.map((v) => 2 + 3 * v + normal());
    const u = x.map((_, i) => 0.5 + (i % 4));
    const { residuals, chiSquared, residualStandardDeviation, coefficients } = fitPolynomial(x, y, 2, {
      standardUncertainty: u,
    });
    for (const power of [0, 1, 2]) {
      const products = x.map((v, i) => (residuals[i] * v ** power) / u[i] ** 2);
      const size = products.reduce((sum, value) => sum + Math.abs(value), 0);
      expect(Math.abs(products.reduce((sum, value) => sum + value, 0)) / size).toBeLessThan(1e-12);
    }
    const [c0, c1, c2] = coefficients;
    y.forEach((value, i) => {
      expect(Math.abs(residuals[i] - (value - c0 - c1 * x[i] - c2 * x[i] ** 2))).toBeLessThan(1e-11);
    });
    const sum = residuals.reduce((total, r, i) => total + (r / u[i]) ** 2, 0);
    expectRelative(chiSquared, sum, 1e-12);
    expectRelative(residualStandardDeviation, Math.sqrt(sum / 27), 1e-12);
  });

  const normal = seededNormal(2);
  const x = count(21);
  const y = x.map((v) => 5 + 1.5 * v + 0.01 * v * v + 0.2 * normal());

  it("turns abscissae scaled by s into coefficients divided by powers of s", () => {
    const s = 1e-6;
    const plain = fitPolynomial(x, y, 2);
    const scaled = fitPolynomial(
      x.map((v) => v * s),
      y,
      2,
    );
    for (const k of [0, 1, 2]) {
      expectRelative(scaled.coefficients[k] * s ** k, plain.coefficients[k], 1e-12);
      expectRelative(scaled.covariance[k][k] * s ** (2 * k), plain.covariance[k][k], 1e-12);
    }
  });

  it("keeps slope, its variance and the curvature when the clock starts 1e6 intervals late", () => {
    const shifted = x.map((v) => v + 1e6);
    const [line, lateLine] = [fitPolynomial(x, y, 1), fitPolynomial(shifted, y, 1)];
    expectRelative(lateLine.coefficients[1], line.coefficients[1], SHIFTED);
    expectRelative(lateLine.covariance[1][1], line.covariance[1][1], SHIFTED);
    expectRelative(lateLine.residualStandardDeviation, line.residualStandardDeviation, SHIFTED);
    const [curve, lateCurve] = [fitPolynomial(x, y, 2), fitPolynomial(shifted, y, 2)];
    expectRelative(lateCurve.coefficients[2], curve.coefficients[2], SHIFTED);
    expectRelative(lateCurve.covariance[2][2], curve.covariance[2][2], SHIFTED);
  });

  it("moves the constant term with y, flips signs with it, and follows its unit", () => {
    const plain = fitPolynomial(x, y, 1);
    const raised = fitPolynomial(
      x,
      y.map((v) => v + 100),
      1,
    );
    expectRelative(raised.coefficients[0] - 100, plain.coefficients[0], 1e-12);
    expectRelative(raised.coefficients[1], plain.coefficients[1], 1e-12);
    const flipped = fitPolynomial(
      x,
      y.map((v) => -1000 * v),
      1,
    );
    expectRelative(flipped.coefficients[1], -1000 * plain.coefficients[1], 1e-12);
    expectRelative(flipped.covariance[1][1], 1e6 * plain.covariance[1][1], 1e-12);
  });

  it("counts a point of half the uncertainty as four points", () => {
    const options = { standardUncertainty: [1, 1, 0.5, 1] };
    const weighted = fitPolynomial([0, 1, 2, 5], [1, 0, 4, 6], 1, options);
    const repeated = fitPolynomial([0, 1, 2, 2, 2, 2, 5], [1, 0, 4, 4, 4, 4, 6], 1, {
      standardUncertainty: Array(7).fill(1),
    });
    for (const k of [0, 1]) {
      expectRelative(weighted.coefficients[k], repeated.coefficients[k], ROUNDING * 10);
      expectRelative(weighted.covariance[k][k], repeated.covariance[k][k], ROUNDING * 10);
    }
  });

  it("takes uncertainties as absolute: doubled, the same line with four times the variance", () => {
    const fits = [0.1, 0.2].map((u) => fitPolynomial(x, y, 1, { standardUncertainty: x.map(() => u) }));
    expectRelative(fits[1].coefficients[1], fits[0].coefficients[1], ROUNDING * 10);
    expectRelative(fits[1].covariance[1][1], 4 * fits[0].covariance[1][1], ROUNDING * 10);
  });

  it("through the origin gives Σxy/Σx², a constant term of 0 and no covariance with it", () => {
    const fit = fitPolynomial([1, 2, 4], [2, 3, 9], 1, { throughOrigin: true });
    expectRelative(fit.coefficients[1], 44 / 21, ROUNDING);
    expect(fit.coefficients[0]).toBe(0);
    expect(fit.covariance[0].map(Math.abs)).toEqual([0, 0]);
    expect(fit.covariance[1].map(Math.abs)[0]).toBe(0);
    expect(fit.degreesOfFreedom).toBe(2);
  });

  it("a parabola through the origin is found exactly", () => {
    const fit = fitPolynomial(
      [1, 2, 3, 4],
      [1, 2, 3, 4].map((v) => 3 * v - 2 * v * v),
      2,
      { throughOrigin: true },
    );
    expectRelative(fit.coefficients[1], 3, ROUNDING);
    expectRelative(fit.coefficients[2], -2, ROUNDING);
  });

  it("changes none of its arguments", () => {
    const frozen = [x, y, x.map(() => 1)].map((values) => Object.freeze([...values]));
    const [a, b, standardUncertainty] = frozen;
    expect(() => fitPolynomial(a, b, 1, Object.freeze({ standardUncertainty }))).not.toThrow();
  });

  const bad: [string, number[], number[], number, PolynomialFitOptions, string][] = [
    ["lengths that differ", [1, 2, 3], [1, 2], 1, {}, "y must have the length of x, 3, got 2"],
    ["two points for a line", [1, 2], [1, 2], 1, {}, "x must hold more than 2 points, got 2"],
    ["three points for a parabola", [1, 2, 3], [1, 2, 3], 2, {}, "x must hold more than 3 points, got 3"],
    ["no points", [], [], 1, {}, "x must hold more than 2 points, got 0"],
    ["x not a number", [1, Number.NaN, 3], [1, 2, 3], 1, {}, "x[1] must be finite, got NaN"],
    ["y infinite", [1, 2, 3], [1, 2, 1 / 0], 1, {}, "y[2] must be finite, got Infinity"],
    [
      "uncertainties of another length",
      [1, 2, 3],
      [1, 2, 3],
      1,
      { standardUncertainty: [1] },
      "standardUncertainty must have the length of x, 3, got 1",
    ],
    [
      "an uncertainty of zero",
      [1, 2, 3],
      [1, 2, 3],
      1,
      { standardUncertainty: [1, 0, 1] },
      "standardUncertainty[1] must be finite and > 0, got 0",
    ],
    [
      "an uncertainty not a number",
      [1, 2, 3],
      [1, 2, 3],
      1,
      { standardUncertainty: [1, 1, Number.NaN] },
      "standardUncertainty[2] must be finite and > 0, got NaN",
    ],
    ["one abscissa", [4, 4, 4], [1, 2, 3], 1, {}, "x must hold at least 2 different values, got 1"],
    [
      "two abscissae for a parabola",
      [4, 5, 4, 5],
      [1, 2, 3, 4],
      2,
      {},
      "x must hold at least 3 different values, got 2",
    ],
    [
      "only zero through the origin",
      [0, 0],
      [1, 2],
      1,
      { throughOrigin: true },
      "x must hold at least 1 different values besides 0, got 0",
    ],
    [
      "zero and one for a parabola through the origin",
      [0, 1, 0, 1],
      [0, 1, 0, 1],
      2,
      { throughOrigin: true },
      "x must hold at least 2 different values besides 0, got 1",
    ],
    [
      "abscissae apart by rounding only",
      [0, 1e-17, 1, 1],
      [0, 1, 0, 1],
      2,
      {},
      "x must hold at least 3 values that differ by more than rounding, got",
    ],
    [
      "half a degree",
      [1, 2, 3, 4, 5],
      [1, 2, 3, 4, 5],
      1.5,
      {},
      "degree must be a whole number from 1 to 12, got 1.5",
    ],
  ];
  it.each(bad)("refuses %s, and says what was given", (_, badX, badY, degree, options, message) => {
    expect(() => fitPolynomial(badX, badY, degree, options)).toThrow(RangeError);
    expect(() => fitPolynomial(badX, badY, degree, options)).toThrow(message);
  });
});
