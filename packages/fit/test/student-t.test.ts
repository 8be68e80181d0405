import quantile from "@stdlib/stats-base-dists-t-quantile";
import { describe, expect, it } from "vitest";
import { studentFactor } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";

/** Good to a few units in the twelfth digit, as the library's quantile is. */
const QUANTILE = 1e-11;

describe("studentFactor", () => {
  it.each([0.5, 0.6827, 0.95, 0.99])("is tan(π p/2) for one degree of freedom (p = %f)", (p) => {
    expectRelative(studentFactor(1, p), Math.tan((Math.PI * p) / 2), QUANTILE);
  });

  it.each([0.5, 0.6827, 0.95, 0.99])("is p sqrt(2/(1 − p²)) for two degrees of freedom (p = %f)", (p) => {
    expectRelative(studentFactor(2, p), p * Math.sqrt(2 / (1 - p * p)), QUANTILE);
  });

  it.each([0.1, 0.5, 1, 1.5, 2, 3, 4, 5.5, 10, 20, 57.3, 100, 298, 1e3, 1e5, 1e6, 1e9])(
    "is that of another implementation for %f degrees of freedom",
    (nu) => {
      for (const p of [0.1, 0.5, 0.6827, 0.95, 0.99, 0.999])
        expectRelative(studentFactor(nu, p), quantile((1 + p) / 2, nu), QUANTILE);
    },
  );

  it("falls with the degrees of freedom, between whole numbers too, to the normal factor", () => {
    const factors = [0.5, 1, 1.5, 3, 3.2, 10, 57.3, 1e3, 1e6, 1e12, Number.POSITIVE_INFINITY].map((nu) =>
      studentFactor(nu),
    );
    for (let k = 1; k < 9; k++) expect(factors[k]).toBeLessThan(factors[k - 1]);
    // the normal quantile at 97.5 %, printed to seven digits in any table
    for (const factor of factors.slice(9)) expectRelative(factor, 1.959964, 1e-6);
  });

  it("refuses arguments outside their range, and says what was given", () => {
    expect(() => studentFactor(0)).toThrow(new RangeError("degreesOfFreedom must be > 0, got 0"));
    expect(() => studentFactor(Number.NaN)).toThrow(new RangeError("degreesOfFreedom must be > 0, got NaN"));
    for (const p of [0, 1, 1.5, Number.NaN])
      expect(() => studentFactor(5, p)).toThrow(
        new RangeError(`probability must lie between 0 and 1, got ${p}`),
      );
  });
});
