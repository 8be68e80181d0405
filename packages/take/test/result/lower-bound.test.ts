import { describe, expect, it } from "vitest";
import { lowerBound } from "../../src/result/lower-bound.js";
import { relativeDifference } from "../outcomes.js";

const crossing = { lengthPixels: 50, lastFrameBefore: 10, firstFrameAfter: 12 };

describe("lowerBound", () => {
  it("is L / ((j - i) T + t_e)", () => {
    // 50 px * 1 mm in 2 * 1 ms + 0.5 ms
    const bound = lowerBound(crossing, { value: 1000 }, { value: 1e-3 }, 5e-4);
    expect(relativeDifference(bound, 0.05 / 0.0025)).toBeLessThan(1e-12);
  });

  it("takes an unknown exposure as the whole interval", () => {
    const bound = lowerBound(crossing, { value: 1000 }, { value: 1e-3 }, null);
    expect(relativeDifference(bound, 0.05 / 0.003)).toBeLessThan(1e-12);
  });

  it("goes down with the uncertainty of scale and rate, by 1.645 of each", () => {
    const rate = { value: 1000, standardUncertainty: 10 };
    const scale = { value: 1e-3, standardUncertainty: 2e-5 };
    const bound = lowerBound(crossing, rate, scale, null);
    const expected = (0.05 / 0.003) * (1 - 1.645 * 0.01) * (1 - 1.645 * 0.02);
    // 1.645 is printed to four digits
    expect(relativeDifference(bound, expected)).toBeLessThan(1e-5);
  });
});
