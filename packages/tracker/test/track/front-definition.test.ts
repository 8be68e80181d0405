import erf from "@stdlib/math-base-special-erf";
import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import type { FollowedFront } from "../../src/one-front/follow-front.js";
import { frontDefinition } from "../../src/track/front-definition.js";
import { streakOf } from "../support/frame-list.js";
import { reading } from "../support/reading.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const COLUMNS = 80;
const SPEED = 2.1;
const NUMBERS = frames(44);
const step = (z: number) => 0.5 * (1 + erf(z * Math.SQRT1_2));
/** Frames since the front entered, over those that it runs. */
const wayOf = (time: number, speed: number) => Math.min(1, Math.max(0, time / (COLUMNS / speed)));

/** Followed on a picture of 40 DN behind the front, as a share of its distance behind it and of the way it has run. */
async function followed(
  profile: (behind: number, way: number) => number,
  { noise = 1, seed = 4, count = NUMBERS.length, mirrored = false, speed = SPEED } = {},
): Promise<FollowedFront> {
  const normal = seededNormal(seed);
  const source = sourceOf({ numbers: NUMBERS.slice(0, count), rows: 4, columns: COLUMNS }, (_, c, t) => {
    const along = mirrored ? COLUMNS - 1 - c : c;
    return 80 + 40 * profile(speed * t - 2 - along, wayOf(t, speed)) + noise * normal();
  });
  const options = {
    sign: 0,
    exposureFraction: undefined,
    isPathGiven: false,
    pause: async () => {},
  } as const;
  const { front } = await followDivided(await streakOf(source), null, options);
  if (!front) throw new Error("expected a front");
  return front;
}

function definition(front: FollowedFront): number {
  const found = frontDefinition(front, NUMBERS);
  if ("notEvaluated" in found) throw new Error(found.notEvaluated);
  return found.standardUncertaintyPixelsPerFrame;
}

/** Mean distance from the middle, in blurs, of the samples between two levels of a Gaussian edge, as a fit weighs them:
 *  by the square of its slope. */
function meanPlace(low: number, high: number): number {
  let sum = 0;
  let weights = 0;
  for (let z = -4; z < 4; z += 1e-3) {
    if (step(z) < low || step(z) > high) continue;
    sum += z * Math.exp(-z * z);
    weights += Math.exp(-z * z);
  }
  return sum / weights;
}

describe("frontDefinition", () => {
  it("is 0 for a front that keeps its shape: sharp, blurred, or with a foot that is ahead by a constant distance", async () => {
    for (const profile of [
      (behind: number) => step(behind),
      (behind: number) => step(behind / 3),
      (behind: number) => 0.8 * step(behind) + 0.2 * step(behind + 3),
    ])
      expect(definition(await followed(profile))).toBe(0);
  });

  it("is half of what the leading edge gains on the 75 % level where the blur grows, either way and shrinking too", async () => {
    // A level z blurs from the middle gains z times the growth of the blur, here 0.8 px on the whole way.
    const growth = (0.8 / COLUMNS) * SPEED;
    const half = ((meanPlace(0.65, 0.85) - meanPlace(0.03, 0.15)) * growth) / 2;
    const grows = (behind: number, way: number) => step(behind / (2 + 0.8 * way));
    const shrinks = (behind: number, way: number) => step(behind / (2.8 - 0.8 * way));
    // To first order in the growth, which is a third of the blur; noise is a tenth of it.
    for (const front of [
      await followed(grows),
      await followed(grows, { mirrored: true }),
      await followed(shrinks),
    ])
      expect(Math.abs(definition(front) / half - 1), `${definition(front)} of ${half}`).toBeLessThan(0.25);
  });

  it("grows with a glow that reaches further ahead on the way, and holds what that moves the speed by", async () => {
    const glowing = (size: number) => (behind: number, way: number) =>
      step(behind) + size * way * Math.exp(Math.min(0, behind) / 4) * step(-behind);
    const faint = await followed(glowing(0.15));
    const bright = await followed(glowing(0.3));
    expect(definition(faint)).toBeGreaterThan(0);
    expect(definition(bright)).toBeGreaterThan(1.5 * definition(faint));
    for (const front of [faint, bright])
      expect(Math.abs(front.line.slope - SPEED)).toBeLessThan(
        2 * Math.hypot(definition(front), front.line.slopeStandardUncertainty),
      );
  });

  it.each([
    ["40", {}],
    ["6", { speed: 13.1 }],
  ])("is 0 for noise alone in at least nine of ten takes, the front in %s frames", async (_, change) => {
    const seeds = frames(10, 1);
    const found = [];
    for (const seed of seeds)
      found.push(definition(await followed((behind) => step(behind / 1.5), { seed, noise: 4, ...change })));
    expect(found.filter((size) => size > 0).length).toBeLessThanOrEqual(1);
  });

  it("holds what a growing glow moves the speed of a front in six frames by", async () => {
    const speed = 13.1;
    const front = await followed(
      (behind, way) => step(behind / 2) + 0.3 * way * Math.exp(Math.min(0, behind) / 4) * step(-behind / 2),
      { speed },
    );
    const size = definition(front);
    expect(size).toBeGreaterThan(front.line.slopeStandardUncertainty);
    expect(Math.abs(front.line.slope - speed)).toBeLessThan(
      2 * Math.hypot(size, front.line.slopeStandardUncertainty),
    );
  });

  it("is not evaluated for a front that passes, nor where fewer than five frames show its levels", async () => {
    const found = reading({ slopePixelsPerFrame: 2 }).front!;
    const pulse = { ...found, motion: { ...found.motion, shape: "pulse" as const } };
    expect(frontDefinition(pulse, NUMBERS)).toEqual({
      notEvaluated: expect.stringContaining("no level behind it"),
    });
    const front = await followed((behind) => step(behind));
    const brief = { ...front, frames: front.frames.slice(0, 4) };
    expect(frontDefinition(brief, NUMBERS)).toEqual({
      notEvaluated: expect.stringContaining("too few frames"),
    });
  });
});
