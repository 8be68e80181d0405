import { describe, expect, it } from "vitest";
import { varianceByOther } from "../../src/model/variance-by-other.js";

describe("varianceByOther", () => {
  it("is half of the square where both models are as likely, and none of it where the other leaves much more", () => {
    expect(varianceByOther(3, 0)).toBeCloseTo(4.5, 12);
    // odds of e to a half of what it leaves more
    expect(varianceByOther(3, 2)).toBeCloseTo(9 / (1 + Math.E), 12);
    expect(varianceByOther(3, 100)).toBe(0);
  });
});
