import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { type BrightnessField, type FrontState, modelPositions } from "../../src/model/front-model.js";
import { leavesMore, misfit } from "../../src/one-front/misfit.js";
import { reading } from "../support/reading.js";
import { expectRelative } from "../support/track.js";

const FRAMES = 60;
const POSITIONS = 40;
const NOISE = 2;

/** A front of 40 DN that jumps over a position between two frames: its model has no shape to fit, so that what it
 *  leaves is counted exactly. */
function followed(more: (frame: number, position: number) => number) {
  const state: FrontState = {
    shape: "step",
    sense: 1,
    frontPixels: Float64Array.from({ length: FRAMES }, (_, i) => (i < 20 ? -50 : 90)),
    blurPixels: 0.5,
    smearPixels: 0,
  };
  const data = Float64Array.from({ length: FRAMES * POSITIONS }, (_, at) => {
    const frame = Math.floor(at / POSITIONS);
    return 100 + (frame < 20 ? 0 : 40) + more(frame, at % POSITIONS);
  });
  const field: BrightnessField = { data, frames: FRAMES, positions: POSITIONS };
  const found = reading({ slopePixelsPerFrame: 1 });
  const models = modelPositions(field, state);
  return { ...found, look: { ...found.look, noise: NOISE }, front: { ...found.front!, models, state } };
}

/** Another size every other frame, of no mean before and behind the front: its square is what is left of it. */
const alternating = (size: number) => (frame: number) => (frame % 2 ? size : -size);

describe("what a front's model leaves", () => {
  it("is the variance of the rest over that of the noise, two levels at every position taken off", () => {
    const expected = (9 * FRAMES) / (FRAMES - 2) / NOISE ** 2;
    expectRelative(misfit(followed(alternating(3))), expected, 1e-9);
  });

  it("is 1 where there is noise alone, and nothing more", () => {
    const normal = seededNormal(8);
    const found = followed(() => NOISE * normal());
    // 2320 degrees of freedom: 3 % standard deviation
    expect(Math.abs(misfit(found) - 1)).toBeLessThan(0.12);
    expect(leavesMore(found)).toBe(false);
  });

  it("is more where a third of the positions change again later", () => {
    const normal = seededNormal(8);
    const found = followed((i, p) => NOISE * normal() + (p % 3 === 0 && i > 40 ? 8 : 0));
    expect(misfit(found)).toBeGreaterThan(1.5);
    expect(leavesMore(found)).toBe(true);
    expect(leavesMore(found, 1.01 * misfit(found))).toBe(false);
  });

  it("does not matter where it is much beyond a low noise, yet less than 3e-4 of the change squared", () => {
    // 40² · 3e-4 = 0.48 DN²
    const quiet = (size: number) => {
      const found = followed(alternating(size));
      return { ...found, look: { ...found.look, noise: 0.1 } };
    };
    expect(misfit(quiet(0.6))).toBeGreaterThan(30);
    expect(leavesMore(quiet(0.6))).toBe(false);
    expect(leavesMore(quiet(0.8))).toBe(true);
  });

  it("is without end where no front was followed, and leaves no question open there", () => {
    const nothing = { ...reading({ slopePixelsPerFrame: 1 }), front: null };
    expect(misfit(nothing)).toBe(Number.POSITIVE_INFINITY);
    expect(leavesMore(nothing)).toBe(false);
  });
});
