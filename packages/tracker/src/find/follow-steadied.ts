import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { type PictureShift, pictureShift } from "../picture-motion/picture-shift.js";
import { steadiedStreak } from "../picture-motion/steadied-streak.js";
import { steadySamples } from "../picture-motion/steady-samples.js";
import type { SortedReadings } from "../several-fronts/sort-readings.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { findAndFollow } from "./find-and-follow.js";

/** Rounds of: steadied streak, front in it, texture ahead of that, shifts. */
const ROUNDS = 4;
/** The shifts have settled where none changes by more than this part of its uncertainty. */
const SETTLED = 0.3;
/** A steadied streak of a smaller part of the frames than this is no streak of the take. */
export const LEAST_KEPT = 0.5;

/** What is seen once the shift is taken out. */
export interface FollowedSteadied {
  readonly streak: StripedStreak;
  readonly readings: SortedReadings;
  readonly shift: PictureShift;
  /** Those frames of the streak as read that are in the steadied one. */
  readonly kept: readonly number[];
}

/** The fronts in a streak with the picture's shift along the path taken out, found and followed again until the two have
 *  settled.
 *  @param fronts  as found with the shift in it
 *  @param isMoving  the picture is known to move, if not this way
 *  @returns "at rest" where ahead of the fronts nothing moves after all; null where too few frames, or too few of a front, would
 *    be left
 *  @throws what `options.pause` throws */
export async function followSteadied(
  streak: StripedStreak,
  first: PictureShift,
  fronts: readonly Found[],
  options: FollowOptions,
  isMoving: boolean,
): Promise<FollowedSteadied | "at rest" | null> {
  let shift = first;
  let best: FollowedSteadied | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const steadied = steadiedStreak(streak, shift.shiftPixels);
    if (!steadied || steadied.frames.length < LEAST_KEPT * streak.shape[0]) break;
    if (fronts.length > 1 && fronts.some((one) => isCutOff(one, steadied.frames))) break;
    const readings = await findAndFollow(steadied.streak, options);
    best = { streak: steadied.streak, readings, shift, kept: steadied.frames };
    const samples = steadySamples(
      readings.fronts,
      steadied.streak,
      streak,
      steadied.firstPosition,
      shift.shiftPixels,
    );
    const next = pictureShift(streak.data, streak.shape, samples, streak.roundingNoise, {
      start: shift.shiftPixels,
      isMoving,
    });
    if (!next) break;
    if (!next.moves) return "at rest";
    if (isSettled(shift, next)) break;
    shift = next;
  }
  return best;
}

/** Whether a front is seen in frames that the first one has left no texture in, more than in those that are kept. */
function isCutOff({ front, kept }: Found, left: readonly number[]): boolean {
  if (!front) return false;
  const still = new Set(left);
  return front.frames.filter((k) => still.has(kept[k])).length < LEAST_KEPT * front.frames.length;
}

/** Whether two registrations know the same frames, and shifts that differ by a constant at most. */
function isSettled(last: PictureShift, next: PictureShift): boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < next.shiftPixels.length; i++) {
    if (Number.isNaN(last.shiftPixels[i]) !== Number.isNaN(next.shiftPixels[i])) return false;
    if (Number.isNaN(next.shiftPixels[i])) continue;
    const move = (next.shiftPixels[i] - last.shiftPixels[i]) / next.standardUncertaintyPixels[i];
    low = Math.min(low, move);
    high = Math.max(high, move);
  }
  return high - low < 2 * SETTLED;
}
