import { expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { blockwiseUncertainty } from "../../src/one-front/blockwise-uncertainty.js";
import type { FollowedFront } from "../../src/one-front/follow-front.js";
import { frames } from "../support/track.js";

/** Invented: positions 0.5 px a frame with an error in each, read to 0.3 px, and what the line fit says of them: the root
 *  of 12 u²/n³ for n frames. */
function followed(errors: readonly number[]): FollowedFront {
  const count = errors.length;
  return {
    frames: frames(count),
    positionPixels: errors.map((error, k) => 0.5 * k + error),
    standardUncertaintyPixels: errors.map(() => 0.3),
    line: {
      intercept: 0,
      slope: 0.5,
      slopeStandardUncertainty: 0.3 * Math.sqrt(12 / count ** 3),
      degreesOfFreedom: count - 2,
      wander: { standardDeviation: 0, correlation: 0 },
    },
  } as unknown as FollowedFront;
}

it("a lead that each crack keeps for 15 frames, as large as the noise of one, widens the slope as 8 of them would", () => {
  const normal = seededNormal(11);
  const seen: number[] = [];
  for (let take = 0; take < 40; take++) {
    const leads = frames(8).map(() => 0.3 * normal());
    const errors = frames(120).map((k) => leads[Math.floor(k / 15)] + 0.3 * normal());
    seen.push(blockwiseUncertainty(followed(errors), frames(120)).line.slopeStandardUncertainty);
  }
  // The slope through 8 blocks of 15 frames, each off by itself: u² = 0.3² (1 + 1/15) / (15² · 8 · 63/12).
  const expected = 0.3 * Math.sqrt(16 / 15 / (225 * 8 * (63 / 12)));
  const rms = Math.sqrt(seen.reduce((sum, u) => sum + u * u, 0) / seen.length);
  // A jackknife of eight scatters by a fifth or so about a mean that is a little high where the ends weigh most.
  expect(rms / expected).toBeGreaterThan(0.85);
  expect(rms / expected).toBeLessThan(1.5);
});

it("too few frames for blocks leave the uncertainty as it is", () => {
  const front = followed(frames(12).map((k) => (k % 2 ? 0.3 : -0.3)));
  expect(blockwiseUncertainty(front, frames(12))).toBe(front);
});
