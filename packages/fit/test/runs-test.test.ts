import { describe, expect, it } from "vitest";
import { runsTest } from "../src/index.js";
import { seededNormal } from "./support/seeded-noise.js";

describe("runsTest", () => {
  it("gives (R - 2ab/n - 1) / sqrt(2ab (2ab - n) / (n² (n - 1))) by hand", () => {
    // ++--+-++-- : six runs of five and five; expected 6, variance 50 · 40 / (100 · 9)
    expect(runsTest([1, 2, -1, -3, 1, -1, 2, 1, -1, -2])).toBe(0);
    // +++++----- : two runs
    expect(runsTest([1, 1, 1, 1, 1, -1, -1, -1, -1, -1])).toBeCloseTo(-4 / Math.sqrt(2000 / 900), 12);
    // +-+-+-+-+- : ten runs
    expect(runsTest([1, -1, 1, -1, 1, -1, 1, -1, 1, -1])).toBeCloseTo(4 / Math.sqrt(2000 / 900), 12);
  });

  it("is about standard normal for residuals in random order", () => {
    const normal = seededNormal(5);
    const values = Array.from({ length: 2000 }, () => runsTest(Array.from({ length: 60 }, () => normal())));
    const mean = values.reduce((sum, z) => sum + z, 0) / values.length;
    const variance = values.reduce((sum, z) => sum + (z - mean) ** 2, 0) / values.length;
    // four standard errors of a mean and of a variance of 2,000
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(2000));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / 2000));
  });

  it("says nothing of residuals of one sign, and leaves zeros out", () => {
    expect(runsTest([1, 2, 3])).toBe(0);
    expect(runsTest([1, 0, 1, -1, 0, -1])).toBe(runsTest([1, 1, -1, -1]));
    expect(() => runsTest([1, Number.NaN])).toThrow("residuals[1] must be finite, got NaN");
  });
});
