import type { FollowedFront } from "../one-front/follow-front.js";
import { streakNoise } from "../streak/noise.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontTrack } from "../types.js";

/** How a followed front looks: its blur at rest, and its step over the noise of a single pixel. The step is the root mean square over
 *  the positions, each weighing as much as is known of its change, less what the noise of the changes makes of it. The noise is that
 *  of differences in time, or of the residuals where that is less: these hold what the model of the edge misses, too,
 *  and differences what passes in a take of few frames.
 *  @param stripsLeftOut  parts of the width that are not in the front's models
 *  @returns null where the front was followed in departures, or no position tells its change */
export function frontLook(
  { motion, models, noiseVariance }: FollowedFront,
  { data, shape, roundingNoise, width, effectiveRows, strips }: StripedStreak,
  channel: FrontTrack["channel"],
  stripsLeftOut: readonly number[] = [],
): FrontTrack["look"] {
  if (channel !== "brightness") return null;
  let weights = 0;
  let squares = 0;
  let told = 0;
  for (const { change, inverse } of models) {
    const variance = inverse[2];
    if (!(variance > 0)) continue;
    weights += 1 / variance;
    squares += change ** 2 / variance;
    told++;
  }
  if (weights === 0 || !(noiseVariance > 0)) return null;
  const meanSquare = Math.max(0, squares - told * noiseVariance) / weights;
  const share = 1 - stripsLeftOut.length / strips.length;
  const wholeWidthNoise = Math.min(Math.sqrt(noiseVariance * share), streakNoise(data, shape, roundingNoise));
  const pixelNoise = wholeWidthNoise * Math.sqrt(effectiveRows ?? width);
  return { edgeBlurPixels: motion.blurPixels, stepToNoise: Math.sqrt(meanSquare) / pixelNoise };
}
