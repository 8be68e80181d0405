import type { FrontMotion } from "../model/joint-fit.js";
import { positionAt, riseFrames } from "../model/passage.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import type { FollowedFront } from "../one-front/follow-front.js";
import { meanFromEndToEnd } from "../one-front/mean-from-end-to-end.js";
import { misfit } from "../one-front/misfit.js";
import { seenPositions } from "../one-front/seen-positions.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontLine } from "../types.js";

/** The next part of a front's way begins no further from the end of the one before than it runs in so many frames
 *  besides its own rise, and no more than that earlier. */
const MOST_APART_FRAMES = 3;
/** Nor does it wait between two parts for longer than this many times as long as it runs: what starts long after where
 *  another stopped need not be the same. */
const LONGEST_WAIT = 1;
/** Part of the positions of the shorter that both may pass: a front passes none twice. */
const MOST_SHARED = 0.2;
/** As one front they leave no more than this times what they leave as several, or than the noise. */
const MOST_LEFT = 1.5;

/** The way that one reading shows: where it begins and ends, px and frame numbers. */
interface Part {
  readonly found: Found;
  readonly front: FollowedFront;
  readonly seen: readonly number[];
  readonly from: Waypoint;
  readonly to: Waypoint;
}

interface Waypoint {
  readonly frame: number;
  readonly position: number;
}

/** Readings of which each begins where and when the one before ends are one front whose speed varies, or which stands
 *  for a while: followed as one about the way that they show together. Its line is the chord of that way.
 *  @param readings  fronts of their own, two or more
 *  @returns null where they do not all join, or one front does not explain the streak as well as they do
 *  @throws what `options.pause` throws */
export async function joinAbutting(
  streak: StripedStreak,
  readings: readonly Found[],
  options: FollowOptions,
): Promise<Found | null> {
  const parts = readings
    .flatMap((found) => partOf(streak, found) ?? [])
    .sort((a, b) => a.from.frame - b.from.frame);
  if (parts.length < readings.length) return null;
  if (parts.some((part, k) => k > 0 && !abut(parts[k - 1], part))) return null;
  if (waitIn(parts) > LONGEST_WAIT * runIn(parts)) return null;
  const longest = parts.reduce((a, b) => (b.seen.length > a.seen.length ? b : a));
  const { front, look, gain } = longest.found;
  if (!front) return null;
  const motion = straightened(front.motion, parts[0].from, parts[parts.length - 1].to);
  const isForwards = motion.slopePixelsPerFrame * motion.sense > 0;
  if (!isForwards || !Number.isFinite(motion.slopePixelsPerFrame)) return null;
  const way = wayThrough(parts);
  const departurePixels = Float64Array.from(
    streak.frameNumbers,
    (number) => way(number) - positionAt(motion, number),
  );
  const joined = await followDivided(streak, gain, options, { look, motion, departurePixels });
  const left = Math.max(1, ...parts.map(({ found }) => misfit(found)));
  if (!joined.front || misfit(joined) > MOST_LEFT * left) return null;
  const numbers = joined.kept.map((frame) => streak.frameNumbers[frame]);
  const mean = meanFromEndToEnd(joined.front, numbers);
  return mean && { ...joined, front: mean, parts: parts.map(lineOf) };
}

function lineOf({ front: { line }, from, to }: Part): FrontLine {
  return {
    slopePixelsPerFrame: line.slope,
    standardUncertaintyPixelsPerFrame: line.slopeStandardUncertainty,
    firstFrame: from.frame,
    lastFrame: to.frame,
    fromPixels: from.position,
    toPixels: to.position,
  };
}

function partOf(streak: StripedStreak, found: Found): Part | null {
  const { front, kept } = found;
  if (front?.motion.shape !== "step") return null;
  const { frames, positionPixels } = front;
  const shown = densest(frames);
  const ends = [shown[0], shown[shown.length - 1]].map((frame) => ({
    position: positionPixels[frames.indexOf(frame)],
    frame: streak.frameNumbers[kept[frame]],
  }));
  const [low, high] = ends.map(({ position }) => position).sort((a, b) => a - b);
  const seen = seenPositions(front).filter((position) => position >= low && position <= high);
  return { found, front, seen, from: ends[0], to: ends[1] };
}

/** The stretch that holds most whole numbers beyond those that it lacks: single ones far off are of something else.
 *  @param numbers  increasing */
function densest(numbers: readonly number[]): readonly number[] {
  let best = { first: 0, end: 0, more: 0 };
  let first = 0;
  let more = 0;
  numbers.forEach((number, k) => {
    const lacking = k > 0 ? number - numbers[k - 1] - 1 : 0;
    if (more <= lacking) {
      first = k;
      more = 0;
    } else more -= lacking;
    more++;
    if (more > best.more) best = { first, end: k + 1, more };
  });
  return numbers.slice(best.first, best.end);
}

/** Frames that pass between one part and the next, the most. */
function waitIn(parts: readonly Part[]): number {
  return Math.max(...parts.slice(1).map((part, k) => part.from.frame - parts[k].to.frame));
}

/** Frames in which it runs, in all parts together. */
function runIn(parts: readonly Part[]): number {
  return parts.reduce((sum, { from, to }) => sum + to.frame - from.frame, 0);
}

/** Whether a front that ran the one part may have gone on with the other. */
function abut(earlier: Part, later: Part): boolean {
  const motions = [earlier.front.motion, later.front.motion];
  const [{ sense }, { sense: other }] = motions;
  if (sense !== other) return false;
  const rise = Math.max(...motions.map(riseFrames));
  const speed = Math.max(...motions.map(({ slopePixelsPerFrame }) => Math.abs(slopePixelsPerFrame)));
  const frames = MOST_APART_FRAMES + rise;
  if (Math.abs(later.from.position - earlier.to.position) > frames * speed) return false;
  if (later.from.frame < earlier.to.frame - frames) return false;
  const own = new Set(earlier.seen);
  const shared = later.seen.filter((position) => own.has(position));
  return shared.length <= MOST_SHARED * Math.min(earlier.seen.length, later.seen.length);
}

/** The same look on a straight line between two places. */
function straightened(motion: FrontMotion, from: Waypoint, to: Waypoint): FrontMotion {
  const slopePixelsPerFrame = (to.position - from.position) / (to.frame - from.frame);
  return {
    ...motion,
    slopePixelsPerFrame,
    interceptPixels: from.position - slopePixelsPerFrame * from.frame,
  };
}

/** Position at a frame number: on one part until half way between its end and the beginning of the next, where the front
 *  stands until the next part goes on from there. */
function wayThrough(parts: readonly Part[]): (number: number) => number {
  const { sense } = parts[0].front.motion;
  return (number) =>
    parts.slice(1).reduce(
      (position, part, k) => {
        const own = positionAt(part.front.motion, number);
        const place = (parts[k].to.position + part.from.position) / 2;
        if (sense * (own - place) > 0) return own;
        return sense * (position - place) > 0 ? place : position;
      },
      positionAt(parts[0].front.motion, number),
    );
}
