import { describe, expect, test } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { type FrontState, modelPositions } from "../../src/model/front-model.js";
import { lastingVariance } from "../../src/model/residual-noise.js";

const frames = 200;
const positions = 60;

/** Noise of variance 1 that keeps the given share from frame to frame, about a front that runs through and
 *  changes nothing. */
function lastingIn(correlation: number): number | null {
  const normal = seededNormal(41);
  const state: FrontState = {
    shape: "step",
    sense: 1,
    frontPixels: Float64Array.from({ length: frames }, (_, i) => 0.3 * i),
    blurPixels: 1,
    smearPixels: 0.2,
  };
  const data = new Float64Array(frames * positions);
  for (let p = 0; p < positions; p++)
    for (let i = 0, last = normal(); i < frames; i++) {
      data[i * positions + p] = last;
      last = correlation * last + Math.sqrt(1 - correlation ** 2) * normal();
    }
  const field = { data, frames, positions };
  const models = modelPositions(field, state);
  return lastingVariance(field, state, models, 0);
}

describe("lastingVariance", () => {
  // The mean of many frames of a first-order autoregressive process has (1 + r)/(1 − r) times the variance of
  // independent ones; 12,000 samples, and levels taken from the same frames, give it to a fifth.
  test.each([0, 0.3, 0.6])("of noise with correlation %f is (1 + r)/(1 - r) times its variance", (r) => {
    const seen = lastingIn(r);
    expect(seen).not.toBeNull();
    expect(Math.abs((seen as number) / ((1 + r) / (1 - r)) - 1)).toBeLessThan(0.2);
  });
});
