import { Matrix, SVD } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { slopingColumns } from "../../src/changing-levels/sloping-columns.js";
import { driftingLevels, fitDriftingLevels } from "../../src/model/drifting-levels.js";

const FRAMES = 40;
const PASSAGE = 17.3;
const RISE = 2.1;

/** Normal distribution and its integral by brute force: steps of 1e-3 from far ahead. */
function byBruteForce(): { step: Float64Array; ramp: Float64Array } {
  const step = new Float64Array(FRAMES);
  const ramp = new Float64Array(FRAMES);
  const dt = 1e-3;
  for (let i = 0; i < FRAMES; i++) {
    let distribution = 0;
    let integral = 0;
    for (let t = PASSAGE - 12 * RISE; t < i; t += dt) {
      const z = (t + dt / 2 - PASSAGE) / RISE;
      distribution += (Math.exp(-0.5 * z * z) / (RISE * Math.sqrt(2 * Math.PI))) * dt;
      integral += distribution * dt;
    }
    step[i] = distribution;
    ramp[i] = integral;
  }
  return { step, ramp };
}

const { step, ramp } = byBruteForce();

const fitSloping = (samples: Float64Array, profile: Float64Array, passage = PASSAGE) =>
  fitDriftingLevels(driftingLevels(samples, slopingColumns(passage, RISE, samples.length)), profile);

describe("levels that slope on either side of a front", () => {
  it("leaves nothing of a step between levels that slope, and tells its height", () => {
    const samples = step.map((share, i) => 50 - 0.8 * i + 30 * share + 2.5 * ramp[i]);
    const { change, residual } = fitSloping(samples, step);
    // brute force is good to its step
    expect(Math.abs(change - 30)).toBeLessThan(0.01);
    for (const left of residual) expect(Math.abs(left)).toBeLessThan(0.01);
  });

  it("is least squares on constant, slope, ramp and profile, as a library gives it", () => {
    const normal = seededNormal(8);
    const samples = Float64Array.from({ length: FRAMES }, () => 20 + 3 * normal());
    const design = new Matrix(Array.from({ length: FRAMES }, (_, i) => [1, i, ramp[i], step[i]]));
    const solution = new SVD(design).solve(Matrix.columnVector(samples));
    const left = Matrix.sub(Matrix.columnVector(samples), design.mmul(solution)).norm("frobenius");
    const inverse = new SVD(design.transpose().mmul(design)).inverse();
    const fit = fitSloping(samples, step);
    // the brute-force ramp is good to 1e-3 of the time
    expect(Math.abs(fit.change / solution.get(3, 0) - 1)).toBeLessThan(2e-3);
    expect(Math.abs(fit.changeVariance / inverse.get(3, 3) - 1)).toBeLessThan(2e-3);
    expect(Math.abs(Math.hypot(...fit.residual) / left - 1)).toBeLessThan(1e-4);
  });

  it("tells a level that falls slowly, be it seen in the last few frames only", () => {
    const passage = FRAMES - 5;
    const behind = (i: number) => Math.max(0, i - passage);
    const front = Float64Array.from(step, (_, i) => (i < passage ? 0 : 1));
    const samples = front.map((share, i) => 50 + 30 * share - 0.15 * behind(i));
    const falling = front.map((_, i) => Math.exp(-behind(i) / 20_000));
    const { change } = fitDriftingLevels(driftingLevels(samples, [falling]), front);
    // taken for constant, the mean of the last frames: 0.3 less
    expect(Math.abs(change - 30)).toBeLessThan(1e-3);
  });

  it("takes a column that varies by rounding alone for the constant it is", () => {
    const constant = step.map((_, i) => 1 + (i % 3) * 1e-14);
    expect(driftingLevels(step, [constant]).basis.length).toBe(1);
  });

  it("has an orthonormal basis of everything fitted", () => {
    const { basis } = fitSloping(new Float64Array(FRAMES), step);
    expect(basis.length).toBe(4);
    basis.forEach((a, k) => {
      basis.forEach((b, l) => {
        const product = a.reduce((sum, value, i) => sum + value * b[i], 0);
        expect(Math.abs(product - (k === l ? 1 : 0))).toBeLessThan(1e-12);
      });
    });
  });

  it("tells no change where the front never passes, and none of no frames", () => {
    const none = fitSloping(Float64Array.from(step), new Float64Array(FRAMES), 900);
    expect([none.change, none.changeVariance]).toEqual([0, 0]);
    const empty = fitSloping(new Float64Array(0), new Float64Array(0));
    expect([empty.change, empty.changeVariance, empty.basis.length]).toEqual([0, 0, 0]);
  });
});
