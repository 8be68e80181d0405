import { median } from "@frontpace/fit";
import { followGlowing } from "../changing-levels/follow-glowing.js";
import { followSloping } from "../changing-levels/follow-sloping.js";
import { localWindow } from "../changing-levels/local-levels.js";
import { splitsInTime } from "../first-look/change-in-time.js";
import { leastStrength } from "../first-look/first-line.js";
import { framesAlone } from "../first-look/frames-alone.js";
import { startMotions } from "../first-look/start-motions.js";
import { type VotedLine, votedLines } from "../first-look/voted-lines.js";
import { flickerBetweenFrames } from "../light/flicker.js";
import { lightAheadOf } from "../light/light-ahead-of.js";
import { jointFit } from "../model/joint-fit.js";
import { riseFrames } from "../model/passage.js";
import { bothWindows, type StreakWindow, workedStreak } from "../model/worked-streak.js";
import { isSeenAlong } from "../one-front/believed-front.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { misfit } from "../one-front/misfit.js";
import { clearlySeen } from "../one-front/seen-positions.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** Frames before and after the passage that tell the levels, tried from wide to narrow. */
const MARGINS = [24, 12, 6];
/** Narrower windows must leave this much less; where no more than this times the noise is left, there is no need. */
const WORTHWHILE = 1.2;
/** A level counts up to this part of the time to the change before or after it: that need not be sudden. */
const UP_TO_NEXT = 0.8;
/** What is taken back before so many of its rises has no edge of its own: a cloud that passes, not a front. The edges of
 *  a Gaussian cloud are two of its standard deviations apart, and each takes 1.6 for a rise. */
const WHOLE_RISES = 1.5;
/** What is taken back is no more than this many times as wide as the sharpest reading whose speed is told to this,
 *  relative. */
const AS_SHARP = 1.5;
/** Where what falls evenly behind a front has come to its end there is a bend, which looks like a small and very sharp step: a sharp one changes the
 *  brightness by this part of the largest. */
const LEAST_CHANGE = 0.15;
const SURE = 0.15;

/** Follows fronts in a streak in which more changes than one of them: the one that was found, and every line of sudden
 *  changes for itself, each in the frames between the changes before and after it, and with its levels read close to the
 *  passage where that leaves less.
 *  @param found  what following the strongest changes gave
 *  @returns those that could be followed, some of them perhaps the same front; in no order
 *  @throws what `options.pause` throws */
export async function followThroughClutter(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<readonly Found[]> {
  const { look, kept } = found;
  const gain = lightOf(streak, found);
  const { field, numbers } = workedStreak(streak, gain, kept);
  const shape = [field.frames, field.positions] as const;
  const splits = splitsInTime(field.data, shape, look.noise, leastStrength(field.frames + 1));
  const readings: Found[] = [];
  const passing: Found[] = [];
  if (found.front) readings.push(await closeUp(streak, found, options));
  for (const line of votedLines(splits, numbers, options.sign)) {
    const window = inStreak(windowOf(line, splits, field.frames), kept, streak.shape[0]);
    const worked = workedStreak(streak, gain, kept, window);
    const starts = startMotions(line, "step", numbers, field.positions, options.exposureFraction);
    const fits = [];
    for (const start of starts) {
      await options.pause();
      fits.push(jointFit(worked.field, numbers, start));
    }
    const best = fits.reduce((least, fit) => (fit.sumOfSquares < least.sumOfSquares ? fit : least));
    const followed = await followDivided(streak, gain, options, { look, motion: best.motion, window });
    const lasts = framesAlone(line, splits);
    if (!followed.front || WHOLE_RISES * riseFrames(followed.front.motion) > lasts) continue;
    const near = await closeUp(streak, followed, options);
    const glowing = await followGlowing(streak, { ...near, window: fromBeginning(window) }, options);
    (lasts === Number.POSITIVE_INFINITY ? readings : passing).push(glowing ?? near);
  }
  // What passes is a front only where it is as sharp as any.
  const all = [...readings, ...passing];
  const most = Math.max(...all.map(usualChange));
  const sharpest = Math.min(
    ...all.filter((reading) => usualChange(reading) > LEAST_CHANGE * most).map(widthOf),
  );
  return [...readings, ...passing.filter((reading) => widthOf(reading) < AS_SHARP * sharpest)];
}

/** A front that was found in a part of the width, followed in all of it, in the frames that counted there.
 *  @param found  with the look of the whole width
 *  @returns null where the whole width does not show it
 *  @throws what `options.pause` throws */
export async function followInWhole(
  streak: StripedStreak,
  { front, look, gain, window }: Found,
  options: FollowOptions,
): Promise<Found | null> {
  if (!front) return null;
  const from = { look, motion: front.motion, ...(window && { window }) };
  const found = await followDivided(streak, gain, options, from);
  return found.front ? closeUp(streak, found, options) : null;
}

/** Of the positions at which it is clearly seen, DN, the median; 0 where there are none. */
function usualChange({ front }: Found): number {
  const changes = front ? clearlySeen(front).map(({ change }) => Math.abs(change)) : [];
  return changes.length > 0 ? median(changes) : 0;
}

/** Of the edge along the path, px; infinite where its speed is hardly told, or where it is seen at few of the positions: of what
 *  settles behind a front anything can look sharp. */
function widthOf(found: Found): number {
  const { front } = found;
  return front && relativeUncertainty(front) < SURE && isSeenAlong(found)
    ? riseFrames(front.motion) * Math.abs(front.motion.slopePixelsPerFrame)
    : Number.POSITIVE_INFINITY;
}

/** Frames that count for one line: most of those between the change before and the change after its own, which is
 *  several splits where it is not sudden; at positions where something changes, but not on the line, none. */
function windowOf(
  { support, columns }: VotedLine,
  splits: ReturnType<typeof splitsInTime>,
  frames: number,
): StreakWindow {
  const own = new Map(support.map((position, k) => [position, columns[k]]));
  const first = new Int32Array(splits.length);
  const end = new Int32Array(splits.length);
  splits.forEach((of, p) => {
    const onLine = own.get(p);
    if (onLine === undefined) {
      end[p] = of.length > 0 ? 0 : frames;
      return;
    }
    const [begins, ends] = onLine;
    const before = of.findLast(({ column }) => column < begins);
    const after = of.find(({ column }) => column > ends);
    if (before) first[p] = begins - Math.ceil(UP_TO_NEXT * (begins - before.column));
    end[p] = after ? ends + Math.ceil(UP_TO_NEXT * (after.column - ends)) : frames;
  });
  return { first, end };
}

/** A window with all frames before it: what runs ahead of a front is there. */
function fromBeginning({ first, end }: StreakWindow): StreakWindow {
  return { first: new Int32Array(first.length), end };
}

/** The front followed again with levels read close to its passage: with slopes, or where that leaves clearly less. */
async function closeUp(streak: StripedStreak, found: Found, options: FollowOptions): Promise<Found> {
  let best = found;
  if (found.tangent !== 0) return best;
  if (found.front?.motion.shape === "step") {
    const sloping = await followSloping(streak, found, options);
    if (sloping) return sloping;
  }
  for (const margin of MARGINS) {
    const { front, look, kept, gain } = best;
    if (!front || misfit(best) < WORTHWHILE) break;
    const local = localWindow(front.state, streak.shape[1], margin);
    if (!local) continue;
    const window = bothWindows(found.window, inStreak(local, kept, streak.shape[0]));
    const next = await followDivided(streak, gain, options, { look, motion: front.motion, window });
    if (next.front && misfit(next) * WORTHWHILE < misfit(best)) best = next;
  }
  return (await followGlowing(streak, best, options)) ?? best;
}

/** Brightness of the whole picture, or null where it does not vary. Against its model one front of several makes flicker of
 *  the others; from frame to frame they cross few positions, and the part ahead of the one that was found tells whether it is
 *  the light. */
function lightOf(streak: StripedStreak, found: Found): Float64Array | null {
  const between = flickerBetweenFrames(streak.data, streak.shape, found.look.noise);
  const said = between ?? found.gain;
  const ahead = said && lightAheadOf(streak, found, said);
  return ahead === "steady" ? null : (ahead ?? between);
}

/** A window of the kept frames, in frames of the streak. */
function inStreak({ first, end }: StreakWindow, kept: readonly number[], frames: number): StreakWindow {
  const frameOf = (place: number) => (place < kept.length ? kept[place] : frames);
  return { first: first.map(frameOf), end: end.map(frameOf) };
}
