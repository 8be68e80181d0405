import { TheilSenRegression } from "ml-regression";
import { describe, expect, it } from "vitest";
import { theilSen } from "../src/theil-sen.js";
import { expectRelative } from "./support/expect-close.js";
import { seededNormal } from "./support/seeded-noise.js";

describe("the line of Theil and Sen", () => {
  it.each([6, 7, 31, 100])(
    "through %i points is that of a library where there is one middle slope",
    (count) => {
      const normal = seededNormal(count);
      const x = Array.from({ length: count }, (_, i) => 3 * i + 0.4 * normal());
      const y = x.map((value) => 12 - 0.7 * value + normal());
      // The library takes the lower of two middle values, in the mirror therefore the upper: theirs is the mean.
      const [lower, upper] = [
        new TheilSenRegression(x, y),
        new TheilSenRegression(
          x,
          y.map((value) => -value),
        ),
      ];
      const line = theilSen(x, y);
      expectRelative(line.slope, (lower.slope - upper.slope) / 2, 1e-12);
      const left = x.map((value, i) => y[i] - line.slope * value).sort((a, b) => a - b);
      const half = count >> 1;
      expectRelative(line.intercept, count % 2 ? left[half] : (left[half - 1] + left[half]) / 2, 1e-12);
    },
  );

  it("holds with a quarter of the points bad", () => {
    const x = Array.from({ length: 40 }, (_, i) => i);
    const y = x.map((value) => (value % 4 === 1 ? 500 - 9 * value : 5 + 2 * value));
    const { slope, intercept } = theilSen(x, y);
    expect(slope).toBe(2);
    expect(intercept).toBe(5);
  });

  it("passes over pairs of equal x, and is not a number where all are", () => {
    expect(theilSen([1, 1, 2, 3], [4, 4, 6, 8])).toEqual({ slope: 2, intercept: 2 });
    expect(theilSen([1, 1], [4, 5]).slope).toBeNaN();
  });
});
