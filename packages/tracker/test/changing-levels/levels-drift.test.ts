import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { levelsDrift } from "../../src/changing-levels/levels-drift.js";
import { modelPositions } from "../../src/model/front-model.js";

const FRAMES = 60;
const POSITIONS = 50;
const NOISE = 2;

function drifts(brightness: (behind: number) => number, seed: number): boolean {
  const normal = seededNormal(seed);
  const frontPixels = Float64Array.from({ length: FRAMES }, (_, i) => i - 5);
  const field = {
    data: Float64Array.from(
      { length: FRAMES * POSITIONS },
      (_, at) => brightness(frontPixels[Math.floor(at / POSITIONS)] - (at % POSITIONS)) + NOISE * normal(),
    ),
    frames: FRAMES,
    positions: POSITIONS,
  };
  const state = { shape: "step", sense: 1, frontPixels, blurPixels: 0.7, smearPixels: 0 } as const;
  return levelsDrift(field, state, modelPositions(field, state), NOISE ** 2);
}

const step = (behind: number) => 40 / (1 + Math.exp(-2.4 * behind));

describe("levelsDrift", () => {
  it("is true of a glow ahead, and of a level behind that settles, not much more than the noise of a sample", () => {
    const ahead = (behind: number) => step(behind) + (behind < 0 ? 3 * Math.exp(behind / 10) : 3);
    const behind = (d: number) => step(d) + (d > 0 ? 3 * Math.exp(-d / 10) : 0);
    expect(drifts(ahead, 1)).toBe(true);
    expect(drifts(behind, 2)).toBe(true);
  });

  it("is false of noise alone in all of twenty", () => {
    const said = Array.from({ length: 20 }, (_, k) => drifts(step, 100 + k));
    expect(said.filter((one) => one).length).toBe(0);
  });
});
