import erf from "@stdlib/math-base-special-erf";
import { describe, expect, it } from "vitest";
import { sampleNormal } from "../../src/model/normal-distribution.js";

describe("normal density and distribution", () => {
  it("agree with the error function of a library to 1e-12 everywhere", () => {
    const sample = { density: 0, distribution: 0 };
    let worst = 0;
    for (let z = -12; z <= 12; z += 0.000713) {
      sampleNormal(z, sample);
      worst = Math.max(
        worst,
        Math.abs(sample.density - Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)),
        Math.abs(sample.distribution - 0.5 * (1 + erf(z * Math.SQRT1_2))),
      );
    }
    expect(worst).toBeLessThan(1e-12);
  });

  it("are 0 and 1 far behind, 0 and 0 far ahead", () => {
    const sample = { density: 1, distribution: 0.5 };
    sampleNormal(Number.POSITIVE_INFINITY, sample);
    expect(sample).toEqual({ density: 0, distribution: 1 });
    sampleNormal(Number.NEGATIVE_INFINITY, sample);
    expect(sample).toEqual({ density: 0, distribution: 0 });
  });
});
