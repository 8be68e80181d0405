import { fitPolynomial } from "@frontpace/fit";
import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { type PictureShift, pictureShift } from "../picture-motion/picture-shift.js";
import { type SteadiedStreak, steadiedStreak } from "../picture-motion/steadied-streak.js";
import { type ReadAcross, steadyAcross } from "../picture-motion/steady-across.js";
import { steadySamples } from "../picture-motion/steady-samples.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { findAndFollow } from "./find-and-follow.js";
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

/** Rounds of: front, texture ahead of it, shifts, steadied streak. */
const ROUNDS = 4;
/** The shifts have settled where none changes by more than this part of its uncertainty. */
const SETTLED = 0.3;
/** A steadied streak of a smaller part of the frames than this is no streak of the take. */
const LEAST_KEPT = 0.5;
/** A pane that kicks or a camera that shakes moves the picture by this part of the path at most. */
const MOST_OF_PATH = 0.2;
/** Between these parts of a front's speed a steady shift is the front's own run. */
const RUN = [0.3, 3] as const;
/** A front that wanders about its run departs from it by this part of what the run itself makes, standard deviations. */
const WANDER_OF_RUN = 0.5;

/** Where the texture that the fronts have not reached moves: the fronts in the streak with that shift taken out, found
 *  and followed again until the two have settled. A picture at rest stays followed as it was read.
 *  @throws what `options.pause` throws */
export async function findSteadied(
  foundAsRead: TimedFront,
  options: FollowOptions,
  storedNumbers: readonly number[],
  readAcross: ReadAcross,
): Promise<FoundSteadied> {
  const { readings } = foundAsRead;
  const asRead = foundAsRead.streak;
  const steadied = await steadyAcross(
    asRead,
    steadySamples(readings.fronts, asRead, asRead),
    storedNumbers,
    readAcross,
  );
  const acrossPixels = steadied?.acrossPixels ?? null;
  const found = steadied ? { ...foundAsRead, streak: steadied.streak } : foundAsRead;
  const { streak } = found;
  const register = (fronts: TimedFront["readings"]["fronts"]) => {
    const shift = pictureShift(
      streak.data,
      streak.shape,
      steadySamples(fronts, streak, streak),
      streak.roundingNoise,
      { isMoving: steadied !== null },
    );
    return shift?.moves && (isTooFar(shift, streak) || runsWith(shift, found, fronts.length > 0))
      ? { ...shift, moves: false }
      : shift;
  };
  const ahead = register(readings.fronts);
  const asItIs = async (isLeft: boolean): Promise<FoundSteadied> => ({
    ...found,
    readings: steadied ? await findAndFollow(streak, options) : readings,
    motion: { shift: ahead, kept: null, isLeft, acrossPixels, asRead: streak },
  });
  let shift = ahead;
  // Texture that moves can look like fronts, and those leave none of it ahead.
  const isSeen = readings.fronts.some(({ front }) => front !== null);
  if (isSeen && (!ahead || placed(ahead) < LEAST_KEPT)) {
    const whole = register([]);
    if (whole?.moves) shift = whole;
  }
  if (!shift?.moves) return asItIs(false);
  let best: FoundSteadied | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const steadied: SteadiedStreak | null = steadiedStreak(streak, shift.shiftPixels);
    if (!steadied || steadied.frames.length < LEAST_KEPT * streak.shape[0]) break;
    if (readings.fronts.length > 1 && readings.fronts.some((one) => isCutOff(one, steadied.frames))) break;
    const again = await findAndFollow(steadied.streak, options);
    best = {
      ...found,
      streak: steadied.streak,
      readings: again,
      motion: { shift, kept: steadied.frames, isLeft: false, acrossPixels, asRead: streak },
    };
    const samples = steadySamples(
      again.fronts,
      steadied.streak,
      streak,
      steadied.firstPosition,
      shift.shiftPixels,
    );
    const next: PictureShift | null = pictureShift(streak.data, streak.shape, samples, streak.roundingNoise, {
      start: shift.shiftPixels,
      isMoving: acrossPixels !== null,
    });
    if (!next) break;
    if (!next.moves) return asItIs(false);
    if (isSettled(shift, next)) break;
    shift = next;
  }
  return best ?? asItIs(ahead?.moves === true);
}

/** Whether a front is seen in frames that the first one has left no texture in, more than in those that are kept. */
function isCutOff({ front, kept }: Found, left: readonly number[]): boolean {
  if (!front) return false;
  const still = new Set(left);
  return front.frames.filter((k) => still.has(kept[k])).length < LEAST_KEPT * front.frames.length;
}

/** Whether the shifts reach over so much of the path that texture has been laid over other texture. */
function isTooFar({ shiftPixels }: PictureShift, { shape }: StripedStreak): boolean {
  const seen = shiftPixels.filter((shift) => !Number.isNaN(shift)).sort();
  return seen[seen.length - 1] - seen[0] > MOST_OF_PATH * shape[1];
}

/** Whether the shifts are a steady run as fast as a front: then it is the foot of that front that was registered, or the
 *  whole scene goes by, and neither is a pane that kicks or a camera that shakes.
 *  @param isAhead  only what lies ahead of the front was registered; else the front was, too, and may wander on its run */
function runsWith(
  { shiftPixels }: PictureShift,
  { streak, readings }: TimedFront,
  isAhead: boolean,
): boolean {
  const seen = Array.from(shiftPixels.keys()).filter((i) => !Number.isNaN(shiftPixels[i]));
  if (seen.length < 3) return false;
  const { coefficients, residualStandardDeviation } = fitPolynomial(
    seen.map((i) => streak.frameNumbers[i]),
    seen.map((i) => shiftPixels[i]),
    1,
  );
  const [slowest, fastest] = RUN;
  const wander = isAhead ? 1 : (WANDER_OF_RUN * (seen[seen.length - 1] - seen[0])) / Math.sqrt(12);
  return readings.fronts.some(({ front }) => {
    const ratio = front ? coefficients[1] / front.line.slope : 0;
    return (
      ratio > slowest && ratio < fastest && residualStandardDeviation < wander * Math.abs(coefficients[1])
    );
  });
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

/** Part of the frames whose shift is known. */
function placed({ shiftPixels }: PictureShift): number {
  return shiftPixels.filter((shift) => !Number.isNaN(shift)).length / shiftPixels.length;
}
