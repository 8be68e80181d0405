import { positionAt } from "../model/passage.js";
import type { StreakWindow } from "../model/worked-streak.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { misfit } from "../one-front/misfit.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontRun } from "./relaxing-window.js";

/** Levels that explain a streak, and the front among them. */
export interface ChosenLevels {
  readonly run: FrontRun;
  /** Standard uncertainty of the slope for what the levels leave open, px a frame. */
  readonly slopeOpenPixels: number;
}

/** A front followed again among the levels that were chosen for it.
 *  @param as  `windowOf` gives the window of these levels for the front in all frames of the streak; `mostLeft` is the most
 *    that may be left, in times the noise
 *  @returns null where more is left
 *  @throws what `options.pause` throws */
export async function followExplained(
  streak: StripedStreak,
  { look, gain, kept }: Found,
  as: {
    readonly chosen: ChosenLevels;
    readonly windowOf: (run: FrontRun) => StreakWindow;
    readonly mostLeft: number;
  },
  options: FollowOptions,
): Promise<Found | null> {
  const { run, slopeOpenPixels } = as.chosen;
  const window = as.windowOf(ofAllFrames(run, streak, kept));
  const again = await followDivided(streak, gain, options, { look, motion: run.motion, window });
  return again.front && misfit(again) <= as.mostLeft ? { ...again, slopeOpenPixels } : null;
}

/** The same in every frame of a streak: in those that are not kept it is on its line. */
function ofAllFrames(
  { motion, frontPixels }: FrontRun,
  { frameNumbers }: StripedStreak,
  kept: readonly number[],
): FrontRun {
  const all = Float64Array.from(frameNumbers, (number) => positionAt(motion, number));
  kept.forEach((frame, k) => {
    all[frame] = frontPixels[k];
  });
  return { motion, numbers: frameNumbers, frontPixels: all };
}
