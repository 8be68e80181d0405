import { expect, it } from "vitest";
import { LineVotes } from "../src/line-votes.js";
import { seededNormal } from "./support/seeded-noise.js";

it("votes for a line are the sum over the points, whatever line they are held against", () => {
  const normal = seededNormal(8);
  const count = 301;
  const x = Float64Array.from({ length: count }, (_, k) => 5 + k * 1.5);
  // A line, and points all over the place about one third of its way.
  const y = x.map((value, k) => 20 + 0.3 * value + (k > 90 && k < 200 ? 30 : 0.4) * normal());
  const weights = x.map(() => 0.2 + Math.abs(normal()));
  const tolerance = 2;
  const bySum = (intercept: number, slope: number) =>
    x.reduce((sum, value, k) => {
      const miss = (y[k] - intercept - slope * value) / tolerance;
      return sum + weights[k] * Math.max(0, 1 - miss * miss);
    }, 0);
  const lines = Array.from({ length: 40 }, () => [20 + normal(), 0.3 + 0.003 * normal()] as const);
  const votes = new LineVotes(x, y, weights, tolerance);
  for (const reference of [null, [20, 0.3], [-400, 2]] as const) {
    if (reference) votes.refer(reference[0], reference[1]);
    for (const [intercept, slope] of lines) {
      const expected = bySum(intercept, slope);
      // Sums of up to 300 products of numbers up to 1000 tolerances apart, rounded to 1e-16 each.
      expect(Math.abs(votes.of(intercept, slope, -1) - expected)).toBeLessThan(1e-9 * (1 + expected));
      expect(votes.of(intercept, slope, expected + 1)).toBeLessThanOrEqual(expected + 1);
    }
  }
});
