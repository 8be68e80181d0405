import { sharpStart } from "../first-look/sharp-start.js";
import { steepestLine } from "../first-look/steepest-line.js";
import { modelPositions } from "../model/front-model.js";
import type { FrontMotion } from "../model/joint-fit.js";
import { arrivalFrame, firstFrameFrom, riseFrames } from "../model/passage.js";
import { type StreakWindow, workedStreak } from "../model/worked-streak.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { followRelaxing } from "./follow-relaxing.js";

/** Frames before the rise and after it in which the front is followed first: what it leaves has not fallen far in so few. */
const BEFORE = 24;
const AFTER = 3;

/** A front behind which the level falls back, followed from where it rises: what comes and goes passes for a wide line, or for a front in what falls, and
 *  from there fits do not come back to the sharp rise.
 *  @param found  what constant levels led to
 *  @returns null where no rise runs along the path, or that and levels that settle do not explain the streak
 *  @throws what `options.pause` throws */
export async function followFromRise(
  streak: StripedStreak,
  { look, gain, kept }: Pick<Found, "look" | "gain" | "kept">,
  options: FollowOptions,
): Promise<Found | null> {
  const { field, numbers } = workedStreak(streak, gain, kept);
  const line = steepestLine(field, numbers, look.noise, options.sign);
  if (!line) return null;
  const slopePixelsPerFrame = 1 / line.framesPerPixel;
  const interceptPixels = -line.frameAtOrigin * slopePixelsPerFrame;
  const motion = sharpStart("step", { interceptPixels, slopePixelsPerFrame }, options.exposureFraction);
  const window = aboutRise(motion, streak);
  const sharp = await followDivided(streak, gain, options, { look, motion, window });
  if (!sharp.front) return null;
  // Levels that settle are held against constant ones in all frames.
  const models = modelPositions(workedStreak(streak, gain, sharp.kept).field, sharp.front.state);
  return followRelaxing(streak, { ...sharp, window: null, front: { ...sharp.front, models } }, options);
}

function aboutRise(motion: FrontMotion, { frameNumbers, shape: [, positions] }: StripedStreak): StreakWindow {
  const half = riseFrames(motion);
  const places = (from: number) =>
    Int32Array.from({ length: positions }, (_, p) =>
      firstFrameFrom(frameNumbers, arrivalFrame(motion, p) + from),
    );
  return { first: places(-half - BEFORE), end: places(half + AFTER) };
}
