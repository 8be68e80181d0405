import { type Curve, fitNonlinear } from "@frontpace/fit";
import { describe, expect, it } from "vitest";
import { expectRelative } from "../packages/fit/test/support/expect-close.js";
import bennett5 from "./published/nist-strd-nls-bennett5.json" with { type: "json" };
import chwirut2 from "./published/nist-strd-nls-chwirut2.json" with { type: "json" };
import danWood from "./published/nist-strd-nls-danwood.json" with { type: "json" };
import misra1a from "./published/nist-strd-nls-misra1a.json" with { type: "json" };
import misra1b from "./published/nist-strd-nls-misra1b.json" with { type: "json" };
import misra1d from "./published/nist-strd-nls-misra1d.json" with { type: "json" };

/** A model as its value and slopes at one x. */
type Model = (b: readonly number[], x: number) => { value: number; slopes: number[] };

const models: Readonly<Record<string, Model>> = {
  Misra1a: ([b1, b2], x) => ({
    value: b1 * (1 - Math.exp(-b2 * x)),
    slopes: [1 - Math.exp(-b2 * x), b1 * x * Math.exp(-b2 * x)],
  }),
  Misra1b: ([b1, b2], x) => ({
    value: b1 * (1 - (1 + (b2 * x) / 2) ** -2),
    slopes: [1 - (1 + (b2 * x) / 2) ** -2, b1 * x * (1 + (b2 * x) / 2) ** -3],
  }),
  Misra1d: ([b1, b2], x) => ({
    value: (b1 * b2 * x) / (1 + b2 * x),
    slopes: [(b2 * x) / (1 + b2 * x), (b1 * x) / (1 + b2 * x) ** 2],
  }),
  DanWood: ([b1, b2], x) => ({ value: b1 * x ** b2, slopes: [x ** b2, b1 * x ** b2 * Math.log(x)] }),
  Bennett5: ([b1, b2, b3], x) => {
    const power = (b2 + x) ** (-1 / b3);
    return {
      value: b1 * power,
      slopes: [power, (-b1 * power) / (b3 * (b2 + x)), (b1 * power * Math.log(b2 + x)) / b3 ** 2],
    };
  },
  Chwirut2: ([b1, b2, b3], x) => {
    const value = Math.exp(-b1 * x) / (b2 + b3 * x);
    return { value, slopes: [-x * value, -value / (b2 + b3 * x), (-x * value) / (b2 + b3 * x)] };
  },
};

function curve(model: Model, x: readonly number[]) {
  return (b: readonly number[]): Curve => {
    const points = x.map((value) => model(b, value));
    return {
      values: points.map(({ value }) => value),
      derivatives: b.map((_, k) => points.map(({ slopes }) => slopes[k])),
    };
  };
}

/** Six digits are asked for; slopes that are worked out and not differenced leave eight. */
const EIGHT = 1e-8;

// NIST/ITL Statistical Reference Datasets, nonlinear regression, lower to higher difficulty.
describe("fitNonlinear reproduces NIST StRD to eight digits, parameters and standard deviations:", () => {
  const sets = {
    Misra1a: misra1a,
    Misra1b: misra1b,
    Misra1d: misra1d,
    DanWood: danWood,
    Bennett5: bennett5,
    Chwirut2: chwirut2,
  };
  const cases = Object.entries(sets).flatMap(([name, set]) =>
    set.starts.map((start, k) => [name, k + 1, start, set] as const),
  );
  it.each(cases)("%s from start %i", (name, _, start, set) => {
    expect(set.starts).toHaveLength(2);
    const fit = fitNonlinear(curve(models[name], set.data.x), set.data.y, start);
    const { estimates, standardDeviations, residualSS, residualStandardDeviation } = set.certified;
    const variance = fit!.chiSquared / set.dof;
    Object.values(estimates).forEach((value, k) => {
      expectRelative(fit!.parameters[k], value, EIGHT);
    });
    Object.values(standardDeviations).forEach((value, k) => {
      expectRelative(Math.sqrt(variance * fit!.unscaledCovariance[k][k]), value, EIGHT);
    });
    expectRelative(fit!.chiSquared, residualSS, EIGHT);
    expectRelative(Math.sqrt(variance), residualStandardDeviation, EIGHT);
    expect(fit!.converged).toBe(true);
  });
});
