import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import type { BrightnessField } from "../../src/model/front-model.js";
import { type FrontMotion, jointFit } from "../../src/model/joint-fit.js";

const FRAMES = 60;
const POSITIONS = 150;
const numbers = Array.from({ length: FRAMES }, (_, i) => i);

/** A front of 2.5 px a frame that starts at 10 px. */
function field(): BrightnessField {
  const normal = seededNormal(12);
  const data = Float64Array.from({ length: FRAMES * POSITIONS }, (_, at) => {
    const behind = 10 + 2.5 * Math.floor(at / POSITIONS) - (at % POSITIONS);
    return 50 / (1 + Math.exp(-1.7 * behind)) + normal();
  });
  return { data, frames: FRAMES, positions: POSITIONS };
}

function motion(slopePixelsPerFrame: number, interceptPixels: number, shape: FrontMotion["shape"] = "step") {
  const sense = slopePixelsPerFrame > 0 ? (1 as const) : (-1 as const);
  const look = { blurPixels: 2, exposureFraction: 0.5, tiltSpreadPixels: 0 };
  return { shape, sense, slopePixelsPerFrame, interceptPixels, ...look };
}

describe("a joint fit that may be given up", () => {
  const good = jointFit(field(), numbers, motion(2.3, 15));

  it("finds the front, and is the same where what it leaves is little enough", () => {
    expect(good.converged).toBe(true);
    expect(Math.abs(good.motion.slopePixelsPerFrame - 2.5)).toBeLessThan(0.01);
    const again = jointFit(field(), numbers, motion(2.3, 15), undefined, {
      mostLeft: 10 * good.sumOfSquares,
    });
    expect(again.motion).toEqual(good.motion);
  });

  it("is given up where it leads nowhere, at no more than it had come to", () => {
    const start = motion(2.3, 15, "pulse");
    const mostLeft = 10 * good.sumOfSquares;
    const whole = jointFit(field(), numbers, start);
    const left = jointFit(field(), numbers, start, undefined, { mostLeft });
    const short = jointFit(field(), numbers, start, undefined, { steps: 6 });
    expect(left.sumOfSquares).toBeGreaterThan(mostLeft);
    expect(left.motion).toEqual(short.motion);
    expect(whole.sumOfSquares).toBeLessThan(left.sumOfSquares);
    // Followed to its end it would be no better a front.
    expect(whole.sumOfSquares).toBeGreaterThan(mostLeft);
  });
});
