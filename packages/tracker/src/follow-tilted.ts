import type { FollowedFront } from "./follow-front.js";
import { type FrontMotion, smearOf } from "./joint-fit.js";
import { measureTilt, type Tilt } from "./measure-tilt.js";
import type { StripedStreak } from "./read-streak.js";
import type { WorkedStreak } from "./worked-streak.js";

/** A tilt that spreads the front by this part of its blur or more is fitted as a ramp, until the ramp's length
 *  changes by less than the second part. */
const LEAST_SPREAD = 0.7;
const SETTLED_SPREAD = 0.1;
const TILT_ROUNDS = 4;

/** Measures the tilt of a front against the path, and where it is large follows the front again with it.
 *  @param exposureFraction  as stated; undefined where it is only guessed at
 *  @param follow  follows the front from a motion */
export function followTilted(
  front: FollowedFront,
  { strips }: WorkedStreak,
  { width, stripOffsetsPixels }: Pick<StripedStreak, "width" | "stripOffsetsPixels">,
  exposureFraction: number | undefined,
  follow: (motion: FrontMotion) => FollowedFront | null,
): { readonly front: FollowedFront; readonly tilt: Tilt | null } {
  const tiltOf = ({ motion, state, noiseVariance }: FollowedFront, expectedDegrees: number) => {
    const spread = motion.tiltSpreadPixels / strips.length;
    const inStrip = { ...state, smearPixels: smearOf({ ...motion, tiltSpreadPixels: spread }) };
    return measureTilt(strips, stripOffsetsPixels, inStrip, noiseVariance, expectedDegrees);
  };
  let best = { front, tilt: tiltOf(front, 0) };
  for (let round = 0; round < TILT_ROUNDS; round++) {
    const { motion } = best.front;
    const { tilt } = best;
    if (!tilt || Math.abs(tilt.degrees) < 3 * tilt.standardUncertaintyDegrees) break;
    const spread = width * Math.abs(Math.tan((tilt.degrees * Math.PI) / 180));
    const tolerance = motion.tiltSpreadPixels === 0 ? LEAST_SPREAD : SETTLED_SPREAD;
    if (Math.abs(spread - motion.tiltSpreadPixels) < tolerance * motion.blurPixels) break;
    // Averaged across its width a tilted front is a ramp, not a blur.
    const sharper = motion.blurPixels ** 2 + (motion.tiltSpreadPixels ** 2 - spread ** 2) / 12;
    const blurPixels = Math.sqrt(Math.max(0.25, sharper));
    // Beside a longer ramp an exposure that is only guessed at does better as a part of the blur.
    const guessed = spread > Math.abs(motion.slopePixelsPerFrame) ? 0 : motion.exposureFraction;
    const next = follow({
      ...motion,
      tiltSpreadPixels: spread,
      blurPixels,
      exposureFraction: exposureFraction ?? guessed,
    });
    const nextTilt = next && tiltOf(next, tilt.degrees);
    if (!nextTilt) break;
    best = { front: next, tilt: nextTilt };
  }
  return best;
}
