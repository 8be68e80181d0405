import { describe, expect, test } from "vitest";
import { wanderWithinRuns } from "../../src/one-front/wander-within-runs.js";

/** Variance and neighbour covariance of the means of runs, summed over every pair of samples. */
function meansOf(standardDeviation: number, correlation: number, run: number) {
  let variance = 0;
  let covariance = 0;
  for (let a = 0; a < run; a++)
    for (let b = 0; b < run; b++) {
      variance += correlation ** Math.abs(a - b) / run ** 2;
      covariance += correlation ** (run + b - a) / run ** 2;
    }
  return {
    standardDeviation: standardDeviation * Math.sqrt(variance),
    correlation: covariance / variance,
  };
}

describe("wanderWithinRuns", () => {
  test.each([
    { sd: 1, correlation: 0.3, run: 2 },
    { sd: 0.4, correlation: 0.8, run: 3 },
    { sd: 2, correlation: 0.95, run: 8 },
  ])("gives back the frames' own wander from that of their runs: %o", ({ sd, correlation, run }) => {
    const means = meansOf(sd, correlation, run);
    const numbers = Array.from({ length: 12 }, (_, k) => (run - 1) / 2 + k * run);
    const perFrame = means.correlation ** (1 / run);
    const inner = wanderWithinRuns(
      { standardDeviation: means.standardDeviation, correlation: perFrame },
      numbers,
      run,
    );
    // 40 halvings: 1e-12 in the correlation of one frame
    expect(Math.abs(inner.correlation - correlation)).toBeLessThan(1e-6);
    expect(Math.abs(inner.standardDeviation / sd - 1)).toBeLessThan(1e-6);
  });

  test("leaves runs of one frame as they are", () => {
    const wander = { standardDeviation: 0.7, correlation: 0.4 };
    expect(wanderWithinRuns(wander, [0, 1, 2], 1)).toEqual(wander);
  });
});
