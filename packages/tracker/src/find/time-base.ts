import { lineEvidence } from "@frontpace/fit";
import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import type { FollowedFront } from "../one-front/follow-front.js";
import type { SortedReadings } from "../several-fronts/sort-readings.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { withoutCopies } from "../streak/without-copies.js";
import type { FrameTiming } from "../timing/frame-timing.js";
import type { SlopeContribution, TrackWarning } from "../types.js";
import { findAndFollow } from "./find-and-follow.js";
import { followAmongLevels } from "./follow-among-levels.js";

/** Up to so many copies are read in every combination; more all in the one way or all in the other. */
const MOST_COMBINED = 3;
/** A reading is clearly right where its likelihood is e to this times that of any other (common practice, no source). */
const CLEAR = 5;

/** What was found at the times at which the frames were taken. */
export interface TimedFront {
  /** Copies left out, frame numbers less the extra ones. */
  readonly streak: StripedStreak;
  readonly readings: SortedReadings;
  readonly timeBase: SlopeContribution;
  readonly warnings: readonly TrackWarning[];
}

/** One way to read the copies, and the front found that way. */
interface Reading {
  /** Indices of the copies that were stored in excess; the others stand where a frame was lost. */
  readonly extra: readonly number[];
  readonly streak: StripedStreak;
  readonly found: Found;
}

/** Follows the front, and where frames are copies finds out which of them delay all later frames: an extra copy does, a
 *  copy in place of a lost frame does not. The positions are the same either way; what tells is whether they lie on one
 *  line. Where that is not clear, the likeliest speed is taken and its distance from the others enters the budget.
 *  @throws what `options.pause` throws */
export async function followInTime(
  streak: StripedStreak,
  timing: FrameTiming,
  options: FollowOptions,
): Promise<TimedFront> {
  if (timing.seen !== "copies")
    return {
      streak,
      readings: await findAndFollow(streak, options),
      timeBase: timeBaseOf(timing),
      warnings: [],
    };
  const { copies } = timing;
  const read = async (extra: readonly number[]): Promise<Reading> => {
    const timed = withoutCopies(streak, copies, extra);
    return { extra, streak: timed, found: await followAmongLevels(timed, options) };
  };
  const numbers = (of: readonly number[]) => of.map((i) => streak.storedNumbers[i]).join(", ");
  const told = async (reading: Reading, slope: number, how: string): Promise<TimedFront> => ({
    streak: reading.streak,
    readings: await findAndFollow(reading.streak, options),
    timeBase: { standardUncertaintyPixelsPerFrame: slope, degreesOfFreedom: Number.POSITIVE_INFINITY },
    warnings: [duplicateFrames(numbers(copies), how)],
  });

  const inPlace = await read([]);
  const allExtra = await read(copies);
  const shown = [inPlace, allExtra].flatMap((reading) => framesUsed(reading, copies));
  if (shown.length === 0) return told(inPlace, 0, "No speed was found to which it would matter");
  const first = Math.min(...shown);
  const last = Math.max(...shown);
  const between = copies.filter((i) => first < i && i < last);
  if (between.length === 0)
    return told(
      inPlace,
      0,
      "None lies between frames that show the front, so the speed does not depend on them",
    );

  const readings: Reading[] = [inPlace];
  for (const extra of combinations(between))
    if (extra.length > 0) readings.push(extra.length === copies.length ? allExtra : await read(extra));
  const shares = sharesOf(readings);
  const best = shares.indexOf(Math.max(...shares));
  const chosen = readings[best];
  const areCombined = between.length <= MOST_COMBINED;
  const isClear =
    areCombined && shares.every((share, k) => k === best || share < shares[best] * Math.exp(-CLEAR));
  const slope = isClear ? 0 : slopeInDoubt(readings, shares, best, areCombined);
  const lost = between.filter((i) => !chosen.extra.includes(i));
  const as = [
    ...(chosen.extra.length > 0
      ? [`${numbers(chosen.extra)} as extra, so that all later frames were taken an interval earlier`]
      : []),
    ...(lost.length > 0 ? [`${numbers(lost)} as in place of a lost frame`] : []),
  ].join(", ");
  return told(
    chosen,
    slope,
    isClear
      ? `The positions of the front clearly read ${as}`
      : `The positions of the front do not tell clearly whether these are extra or in place of lost frames: read ${as}, and the speeds of the other readings are in the uncertainty`,
  );
}

function timeBaseOf({ seen }: FrameTiming): SlopeContribution {
  if (seen === "steady")
    return { standardUncertaintyPixelsPerFrame: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };
  return {
    notEvaluated: "the noise is too low, or the frames too few, to tell copied frames from still ones",
  };
}

/** Indices, in the streak with its copies, of the frames used. */
function framesUsed({ found }: Reading, copies: readonly number[]): number[] {
  const { front, kept } = found;
  if (!front) return [];
  const place: number[] = [];
  for (let i = 0; place.length <= kept[kept.length - 1]; i++) if (!copies.includes(i)) place.push(i);
  return front.frames.map((k) => place[kept[k]]);
}

/** Every choice among a few; of more: none and all. */
function combinations(indices: readonly number[]): (readonly number[])[] {
  if (indices.length > MOST_COMBINED) return [[], indices];
  return Array.from({ length: 2 ** indices.length }, (_, choice) =>
    indices.filter((_, k) => (choice >> k) & 1),
  );
}

/** How likely each reading is, by the line through the positions that each of them finds; one whose own positions speak
 *  against it has no say.
 *  @returns shape (readings,), sum 1 */
function sharesOf(readings: readonly Reading[]): number[] {
  const says = readings.flatMap(({ found }, base) => {
    const { front, kept } = found;
    if (!front) return [];
    const logs = readings.map((reading) =>
      reading.found.front ? evidenceOf(front, kept, reading.streak.frameNumbers) : Number.NEGATIVE_INFINITY,
    );
    const most = Math.max(...logs);
    const total = logs.reduce((sum, log) => sum + Math.exp(log - most), 0);
    return [{ isOwn: logs[base] === most, shares: logs.map((log) => Math.exp(log - most) / total) }];
  });
  const own = says.filter(({ isOwn }) => isOwn);
  const heard = own.length > 0 ? own : says;
  return readings.map((_, k) => heard.reduce((sum, { shares }) => sum + shares[k] / heard.length, 0));
}

/** Log-likelihood of a front's positions at the times that another reading gives its frames. */
function evidenceOf(
  { frames, readings: { positionPixels, information, groupOf } }: FollowedFront,
  kept: readonly number[],
  times: readonly number[],
): number {
  const sums = positionPixels.map(() => ({ time: 0, count: 0 }));
  frames.forEach((k, n) => {
    sums[groupOf(n)].time += times[kept[k]];
    sums[groupOf(n)].count++;
  });
  return lineEvidence(
    sums.map(({ time, count }) => time / count),
    positionPixels,
    information,
  );
}

/** Standard uncertainty of the slope where readings stay open: half of what parts the chosen one from any other that is
 *  not clearly wrong (from any, where not every combination was read), or its distance from all of them, root mean square, if that is more. */
function slopeInDoubt(
  readings: readonly Reading[],
  shares: readonly number[],
  best: number,
  areCombined: boolean,
): number {
  const slopeOf = (k: number) => readings[k].found.front?.line.slope ?? Number.NaN;
  let half = 0;
  let square = 0;
  shares.forEach((share, k) => {
    const apart = Math.abs(slopeOf(k) - slopeOf(best));
    if (Number.isNaN(apart)) return;
    square += share * apart ** 2;
    if (!areCombined || share >= shares[best] * Math.exp(-CLEAR)) half = Math.max(half, apart / 2);
  });
  return Math.max(half, Math.sqrt(square));
}

function duplicateFrames(numbers: string, how: string): TrackWarning {
  return {
    code: "duplicate-frames",
    message: `frame ${numbers} is a copy of the one before it, and was left out. ${how}`,
  };
}
