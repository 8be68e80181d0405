import { describe, expect, it } from "vitest";
import { fitNonlinear, fitPolynomial } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";

const x = [0, 1, 2, 3, 4, 5];
const y = [1.2, 2.9, 5.3, 6.8, 9.1, 11.2];
const line = ([a, b]: readonly number[]) => ({
  values: x.map((value) => a + b * value),
  derivatives: [x.map(() => 1), [...x]],
});

describe("fitNonlinear", () => {
  it("of a straight line gives the line and covariance of fitPolynomial, with weights", () => {
    const standardUncertainty = [0.1, 0.2, 0.1, 0.3, 0.1, 0.2];
    const curve = fitNonlinear(line, y, [100, -5], { standardUncertainty })!;
    const straight = fitPolynomial(x, y, 1, { standardUncertainty });
    expect(curve.converged).toBe(true);
    for (const k of [0, 1]) {
      expectRelative(curve.parameters[k], straight.coefficients[k], 1e-9);
      for (const m of [0, 1])
        expectRelative(curve.unscaledCovariance[k][m], straight.covariance[k][m], 1e-12);
    }
    expectRelative(curve.chiSquared, straight.chiSquared, 1e-12);
  });

  it("does not step to where the curve is not finite, and refuses to start there", () => {
    const root = ([a]: readonly number[]) => ({
      values: x.map((value) => Math.sqrt(a + value)),
      derivatives: [x.map((value) => 0.5 / Math.sqrt(a + value))],
    });
    const seen = fitNonlinear(
      root,
      x.map((value) => Math.sqrt(0.01 + value)),
      [50],
    )!;
    expectRelative(seen.parameters[0], 0.01, 1e-6);
    expect(fitNonlinear(root, y, [-1])).toBeNull();
  });

  it("gives nothing where the slopes do not determine the parameters", () => {
    const twice = ([a, b]: readonly number[]) => ({
      values: x.map((value) => (a + b) * value),
      derivatives: [[...x], [...x]],
    });
    expect(fitNonlinear(twice, y, [1, 1])).toBeNull();
  });
});
