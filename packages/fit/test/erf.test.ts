import other from "@stdlib/math-base-special-erf";
import { describe, expect, it } from "vitest";
import { erf } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";

describe("the error function", () => {
  it("is that of another implementation to 2e-15, whether by series or by continued fraction", () => {
    for (let x = -6.5; x < 6.5; x += 0.013) expectRelative(erf(x), other(x), 2e-15);
  });

  it("is 2x/sqrt(pi) close to nothing, and odd", () => {
    for (const x of [1e-300, 1e-20, 1e-9]) expectRelative(erf(x), (2 * x) / Math.sqrt(Math.PI), 1e-15);
    for (const x of [0.3, 2.9, 3.1, 8]) expect(erf(-x)).toBe(-erf(x));
    expect(erf(0)).toBe(0);
    expect(erf(Number.POSITIVE_INFINITY)).toBe(1);
    expect(erf(Number.NaN)).toBeNaN();
  });
});
