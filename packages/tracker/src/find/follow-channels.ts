import { findCrossing } from "../first-look/find-crossing.js";
import { findFront } from "../first-look/find-front.js";
import { isSeenAlong } from "../one-front/believed-front.js";
import { blockwiseUncertainty } from "../one-front/blockwise-uncertainty.js";
import { ONE_SENSE, onePolarity } from "../one-front/choose-fit.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { leavesMore, misfit } from "../one-front/misfit.js";
import { shareOfWidth } from "../one-front/share-of-width.js";
import type { ReadAcross } from "../picture-motion/steady-across.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrameTiming } from "../timing/frame-timing.js";
import type { Progress, StreakChannel } from "../types.js";
import { type FoundSteadied, findSteadied } from "./find-steadied.js";
import { followInTime } from "./time-base.js";

/** Brightness is believed by itself where its positions change in one sense, its speed is told to this, relative, and what it
 *  leaves is no more than this times the noise. */
const SURE = 0.15;
const MOST_LEFT = 2;
/** Of what runs along the path the parts of the width share the change; of what runs across it the mean over the width may show a
 *  line by chance, and the parts share less of it than this (0.01 to 0.1 in trials; a front in a part of the width has its part). */
const LEAST_SHARE = 0.2;
/** One direction is enough where the front in it is square to the path by no more than this, and its speed told to this, relative
 *  (common practice, no source). */
const SQUARE_DEGREES = 5;
const PLAINLY_SURE = 0.01;

type DepartedStreak = StripedStreak & { readonly departures: Float64Array };

interface TimedStreak {
  readonly streak: StripedStreak;
  readonly timing: FrameTiming;
  readonly readAcross: ReadAcross;
}

/** What was found, in which streak and in which of its channels. */
export interface FoundInChannel extends FoundSteadied {
  readonly channel: StreakChannel;
}

/** Finds and follows the front in the brightness of the streaks, and keeps the surest. Where that shows no front, or one
 *  behind which positions change in either sense, or a speed hardly told, it is looked for in their departures, too: a
 *  cloud of cracks shows there. A stated polarity is one of brightness, and departures have none; those of a picture that
 *  moves are of its texture.
 *  @param readDepartures  of every streak as read, shape [frames, positions]; frames are read again for them
 *  @throws what `options.pause` throws */
export async function followChannels(
  streaks: readonly TimedStreak[],
  options: FollowOptions,
  readDepartures: () => Promise<readonly Float64Array[]>,
  onProgress?: (progress: Progress) => void,
): Promise<FoundInChannel> {
  const total = streaks.length;
  const brightness: FoundInChannel[] = [];
  const ordered = mostPromisingFirst(streaks, options);
  for (const { streak, timing, readAcross } of ordered) {
    onProgress?.({ stage: "fitting", done: brightness.length, total });
    const inTime = await followInTime(streak, timing, options);
    const steadied = await findSteadied(inTime, options, streak.storedNumbers, readAcross);
    const found = { ...steadied, channel: "brightness" } as const;
    brightness.push(found);
    // Across its way a front that is square to it comes everywhere at once.
    if (isPlain(found)) break;
  }
  onProgress?.({ stage: "fitting", done: total, total });
  const surest = surestOf(brightness);
  const moves = brightness.some(({ motion }) => motion.kept !== null || motion.acrossPixels);
  if (options.sign !== 0 || moves || isBelievable(surest)) return surest;
  const channels = await readDepartures();
  const departures: FoundInChannel[] = [];
  for (const [k, inBrightness] of brightness.entries()) {
    onProgress?.({ stage: "fitting departures", done: k, total });
    const streak = {
      ...inBrightness.streak,
      departures: ofFrames(inBrightness.streak, channels[streaks.indexOf(ordered[k])], ordered[k].streak),
    };
    const found = await followDepartures(streak, options);
    departures.push({
      ...inBrightness,
      streak,
      readings: { fronts: [found], others: [] },
      channel: "departures",
    });
  }
  onProgress?.({ stage: "fitting departures", done: total, total });
  const other = surestOf(departures);
  const isSurer = other.readings.fronts[0].front !== null && sureness(other) > sureness(surest);
  return isSurer ? other : surest;
}

/** The streaks, that first in which at a first look the most runs. */
function mostPromisingFirst(
  streaks: readonly TimedStreak[],
  { sign }: FollowOptions,
): readonly TimedStreak[] {
  if (streaks.length < 2) return streaks;
  const weights = new Map(
    streaks.map((timed) => {
      const { data, shape, frameNumbers, roundingNoise } = timed.streak;
      const field = { data, frames: shape[0], positions: shape[1] };
      return [timed, findFront(field, frameNumbers, roundingNoise, sign).weight];
    }),
  );
  return streaks.toSorted((a, b) => (weights.get(b) ?? 0) - (weights.get(a) ?? 0));
}

/** Whether one front explains a streak, and is square to its path: of the other direction nothing is to be expected. */
function isPlain(inChannel: FoundInChannel): boolean {
  const { readings, warnings, motion } = inChannel;
  const [found, ...others] = readings.fronts;
  const { front, tilt } = found;
  const isAtRest = motion.kept === null && !motion.isLeft && motion.acrossPixels === null;
  return (
    others.length === 0 &&
    warnings.length === 0 &&
    isAtRest &&
    front !== null &&
    relativeUncertainty(front) < PLAINLY_SURE &&
    tilt !== null &&
    Math.abs(tilt.degrees) < SQUARE_DEGREES &&
    !leavesMore(found) &&
    isBelievable(inChannel)
  );
}

/** The surest of those fronts that the parts of the width share; where none is, the surest of all. */
function surestOf(found: readonly FoundInChannel[]): FoundInChannel {
  const shared = found.filter((one) => one.readings.fronts[0].front !== null && isShared(one));
  return (shared.length > 0 ? shared : found).reduce((best, next) =>
    sureness(next) > sureness(best) ? next : best,
  );
}

/** Whether the parts of the width share the change, or cannot tell. */
function isShared({ readings, streak }: FoundInChannel): boolean {
  return (shareOfWidth(streak, readings.fronts[0]) ?? 1) >= LEAST_SHARE;
}

/** What the departures show; the light is taken off in them already. What passes in them and leaves none is a fragment, or
 *  texture: behind a front pixels keep what they changed. */
async function followDepartures(streak: DepartedStreak, options: FollowOptions): Promise<Found> {
  const found = await followDivided(departureStreak(streak), null, { ...options, sign: 1 });
  const { front, kept } = found;
  if (!front) return found;
  if (front.motion.shape !== "step") return { ...found, front: null, disbelief: "spot" };
  if (!isSeenAlong(found)) return { ...found, front: null, disbelief: "unclear" };
  const numbers = kept.map((frame) => streak.frameNumbers[frame]);
  return { ...found, front: blockwiseUncertainty(front, numbers) };
}

/** Orders what was found: a followed front by how sure its speed is, else by how much there is of a moving change. */
function sureness({ readings }: FoundInChannel): number {
  const [{ front, look }] = readings.fronts;
  if (front) return 1 + 1 / relativeUncertainty(front);
  return look.weight / (1 + look.weight);
}

function isBelievable(inChannel: FoundInChannel): boolean {
  const { readings, streak } = inChannel;
  const [found] = readings.fronts;
  const { front, look } = found;
  if (front)
    return (
      onePolarity(front.models) > ONE_SENSE &&
      relativeUncertainty(front) < SURE &&
      misfit(found) < MOST_LEFT &&
      isShared(inChannel)
    );
  const [frames, positions] = streak.shape;
  return findCrossing({ data: streak.data, frames, positions }, look.noise) !== null;
}

/** Those lines of a channel, read like `asRead`, that belong to the frames of a streak. */
function ofFrames(
  { storedNumbers, shape: [frames, positions] }: StripedStreak,
  channel: Float64Array,
  asRead: StripedStreak,
): Float64Array {
  const lines = new Float64Array(frames * positions);
  const place = new Map(asRead.storedNumbers.map((number, i) => [number, i * positions]));
  storedNumbers.forEach((number, i) => {
    const from = place.get(number) ?? 0;
    lines.set(channel.subarray(from, from + positions), i * positions);
  });
  return lines;
}

/** The departures as a streak by themselves. They have no tilt: in parts of the width the cracks are too few to tell one. */
export function departureStreak(streak: DepartedStreak): StripedStreak {
  const { departures, shape, width, effectiveRows } = streak;
  return {
    ...streak,
    data: departures,
    strips: [departures],
    stripOffsetsPixels: [0],
    stripCounts: [new Float64Array(shape[1]).fill(width)],
    // Standard deviation of the logarithm of a mean of so many squares of normal numbers, for many.
    roundingNoise: Math.sqrt(2 / (effectiveRows ?? width)),
  };
}
