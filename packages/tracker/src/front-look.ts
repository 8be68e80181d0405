import type { FollowedFront } from "./follow-front.js";
import { streakNoise } from "./noise.js";
import type { StripedStreak } from "./read-streak.js";
import type { FrontTrack } from "./types.js";

/** How a followed front looks: its blur at rest, and its step over the noise of a single pixel. The step is the root mean square over
 *  the positions, each weighing as much as is known of its change, less what the noise of the changes makes of it. The noise is that
 *  of differences in time, or of the residuals where that is less: these hold what the model of the edge misses, too,
 *  and differences what passes in a take of few frames.
 *  @returns null where the front was followed in departures, or no position tells its change */
export function frontLook(
  { motion, models, noiseVariance }: FollowedFront,
  { data, shape, roundingNoise, width, effectiveRows }: StripedStreak,
  channel: FrontTrack["channel"],
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
  const sampleNoise = Math.min(Math.sqrt(noiseVariance), streakNoise(data, shape, roundingNoise));
  const pixelNoise = sampleNoise * Math.sqrt(effectiveRows ?? width);
  return { edgeBlurPixels: motion.blurPixels, stepToNoise: Math.sqrt(meanSquare) / pixelNoise };
}
