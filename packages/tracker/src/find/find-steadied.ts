import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { reachesTooFar, runsLikeAFront } from "../picture-motion/like-a-front.js";
import { type PictureShift, pictureShift } from "../picture-motion/picture-shift.js";
import { type ReadAcross, steadyAcross } from "../picture-motion/steady-across.js";
import { steadySamples } from "../picture-motion/steady-samples.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { findAndFollow } from "./find-and-follow.js";
import { followSteadied, LEAST_KEPT } from "./follow-steadied.js";
import type { TimedFront } from "./time-base.js";

/** What was found, in the streak in which it was. */
export interface FoundSteadied extends TimedFront {
  readonly motion: PictureMotion;
}

export interface PictureMotion {
  /** Of the frames of the streak as read; null where there is no texture to register. */
  readonly shift: PictureShift | null;
  /** The frames of the streak as read that are in the streak worked on; null: the picture is at rest, all of them. */
  readonly kept: readonly number[] | null;
  /** Whether it moves along the path, but in too few frames is told how far: nothing was subtracted. */
  readonly isLeft: boolean;
  /** px to the path's right hand, of the frames of the streak as read: where the band was read in them; null: at rest. */
  readonly acrossPixels: Float64Array | null;
  readonly asRead: Pick<StripedStreak, "frameNumbers" | "storedNumbers">;
}

/** Where the texture that the fronts have not reached moves: the fronts in the streak with that motion taken out, first
 *  across the path, then along it. A picture at rest stays followed as it was read.
 *  @throws what `options.pause` throws */
export async function findSteadied(
  foundAsRead: TimedFront,
  options: FollowOptions,
  storedNumbers: readonly number[],
  readAcross: ReadAcross,
): Promise<FoundSteadied> {
  const { readings, streak: firstRead } = foundAsRead;
  const still = steadySamples(readings.fronts, firstRead, firstRead);
  const across = await steadyAcross(firstRead, still, storedNumbers, readAcross);
  const acrossPixels = across?.acrossPixels ?? null;
  const streak = across?.streak ?? firstRead;
  const isMoving = across !== null;
  const ahead = shiftAhead(streak, readings.fronts, readings.fronts, isMoving);
  const asItIs = async (isLeft: boolean): Promise<FoundSteadied> => ({
    ...foundAsRead,
    streak,
    readings: across ? await findAndFollow(streak, options) : readings,
    motion: { shift: ahead, kept: null, isLeft, acrossPixels, asRead: streak },
  });
  const shift = texturesOwn(streak, readings.fronts, ahead, isMoving);
  if (!shift?.moves) return asItIs(false);
  const along = await followSteadied(streak, shift, readings.fronts, options, isMoving);
  if (along === "at rest" || !along) return asItIs(along === null && ahead?.moves === true);
  return {
    ...foundAsRead,
    streak: along.streak,
    readings: along.readings,
    motion: { shift: along.shift, kept: along.kept, isLeft: false, acrossPixels, asRead: streak },
  };
}

/** The shift of the texture ahead of the fronts; where they leave too few frames any texture, of all of it if that moves:
 *  texture that moves can look like fronts, and those leave none of it ahead. */
function texturesOwn(
  streak: StripedStreak,
  fronts: readonly Found[],
  ahead: PictureShift | null,
  isMoving: boolean,
): PictureShift | null {
  const isSeen = fronts.some(({ front }) => front !== null);
  if (!isSeen || (ahead && placed(ahead) >= LEAST_KEPT)) return ahead;
  const whole = shiftAhead(streak, [], fronts, isMoving);
  return whole?.moves ? whole : ahead;
}

/** The shift of what lies ahead of fronts, at rest where it is like a front's own run.
 *  @param fronts  that are kept clear of
 *  @param found  that it may be the run of */
function shiftAhead(
  streak: StripedStreak,
  fronts: readonly Found[],
  found: readonly Found[],
  isMoving: boolean,
): PictureShift | null {
  const { data, shape, roundingNoise, frameNumbers } = streak;
  const samples = steadySamples(fronts, streak, streak);
  const shift = pictureShift(data, shape, samples, roundingNoise, { isMoving });
  if (!shift?.moves) return shift;
  const isLikeFront =
    reachesTooFar(shift, shape[1]) || runsLikeAFront(shift, frameNumbers, found, fronts.length > 0);
  return isLikeFront ? { ...shift, moves: false } : shift;
}

/** Part of the frames whose shift is known. */
function placed({ shiftPixels }: PictureShift): number {
  return shiftPixels.filter((shift) => !Number.isNaN(shift)).length / shiftPixels.length;
}
