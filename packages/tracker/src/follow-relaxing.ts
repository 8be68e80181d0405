import { chooseRelaxation } from "./choose-relaxation.js";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";
import { levelsDrift } from "./levels-drift.js";
import { misfit } from "./misfit.js";
import type { StripedStreak } from "./read-streak.js";
import { type FrontRun, pixelsAt, relaxingWindow } from "./relaxing-window.js";
import { workedStreak } from "./worked-streak.js";

/** The levels and the front explain the streak where they leave no more than this times the noise. */
const MOST_LEFT = 1.15;

/** A front followed again with light that runs ahead of it and falls off, and with a level behind it that settles, where
 *  these and the front are all that changes.
 *  @returns with how far the lengths, and the way in which the light meets the front, leave the speed open; null where levels
 *    are constant, or something else changes too
 *  @throws what `options.pause` throws */
export async function followRelaxing(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<Found | null> {
  const { front, look, gain, kept, tangent } = found;
  if (front?.motion.shape !== "step" || tangent !== 0) return null;
  const worked = workedStreak(streak, gain, kept, found.window);
  const noiseVariance = look.noise ** 2;
  if (!levelsDrift(worked.field, front.state, front.models, noiseVariance)) return null;
  const chosen = await chooseRelaxation(worked, front, noiseVariance, options.pause);
  if (!chosen) return null;
  const { run, relaxation, slopeOpenPixels } = chosen;
  const window = relaxingWindow(ofAllFrames(run, streak, kept), streak.shape[1], relaxation, found.window);
  const again = await followDivided(streak, gain, options, { look, motion: run.motion, window });
  if (!again.front || misfit(again) > MOST_LEFT) return null;
  return { ...again, slopeOpenPixels };
}

/** The same in every frame of a streak: in those that are not kept it is on its line. */
function ofAllFrames(
  { motion, frontPixels }: FrontRun,
  { frameNumbers }: StripedStreak,
  kept: readonly number[],
): FrontRun {
  const all = Float64Array.from(frameNumbers, (number) => pixelsAt(motion, number));
  kept.forEach((frame, k) => {
    all[frame] = frontPixels[k];
  });
  return { motion, numbers: frameNumbers, frontPixels: all };
}
