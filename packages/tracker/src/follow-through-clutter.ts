import { changeInTime, firstChange } from "./change-in-time.js";
import { firstLine, leastStrength } from "./first-line.js";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";
import { relativeUncertainty } from "./follow-front.js";
import { jointFit } from "./joint-fit.js";
import { localWindow } from "./local-levels.js";
import { misfit } from "./misfit.js";
import type { StripedStreak } from "./read-streak.js";
import { startMotions } from "./start-motions.js";
import { type StreakWindow, workedStreak } from "./worked-streak.js";

/** Frames before and after the passage that tell the levels, tried from wide to narrow. */
const MARGINS = [24, 12, 6];
/** Narrower windows must leave this much less. */
const WORTHWHILE = 1.2;
/** A first change counts up to this part of the time to the next: that need not be sudden. */
const UP_TO_NEXT = 0.8;
/** Part of the positions with a change that must lie on the line of first changes. */
const LEAST_SUPPORT = 0.4;

/** Readings of a front in a streak in which more changes than it: the strongest change at each position, and the
 *  first, each with its levels read close to the passage where that leaves less. */
export interface ClutteredReadings {
  readonly strongest: Found;
  /** null where the first changes are the strongest ones, or lie on no line. */
  readonly first: Found | null;
}

/** Follows the front again where its model leaves more than noise.
 *  @param found  what following the strongest changes gave
 *  @throws what `options.pause` throws */
export async function followThroughClutter(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<ClutteredReadings> {
  const strongest = await closeUp(streak, found, options);
  const first = await followFirstChange(streak, found, options);
  return { strongest, first: first && (await closeUp(streak, first, options)) };
}

/** The front followed again with levels read close to its passage, where that leaves clearly less. */
async function closeUp(streak: StripedStreak, found: Found, options: FollowOptions): Promise<Found> {
  let best = found;
  if (found.tangent !== 0) return best;
  for (const margin of MARGINS) {
    const { front, look, kept, gain } = best;
    if (!front) return best;
    const local = localWindow(front.state, streak.shape[1], margin);
    if (!local) continue;
    const window = meet(found.window, inStreak(local, kept, streak.shape[0]));
    const next = await followDivided(streak, gain, options, { look, motion: front.motion, window });
    if (next.front && misfit(next) * WORTHWHILE < misfit(best)) best = next;
  }
  return best;
}

async function followFirstChange(
  streak: StripedStreak,
  { look, kept, gain }: Found,
  options: FollowOptions,
): Promise<Found | null> {
  const { field, numbers } = workedStreak(streak, gain, kept);
  const shape = [field.frames, field.positions] as const;
  const change = changeInTime(field.data, shape, look.noise, "step", options.sign);
  const first = firstChange(field.data, shape, look.noise, options.sign, leastStrength(field.frames + 1));
  const changed = first.column.filter((column) => column >= 0).length;
  const isStrongest = first.column.every((column, p) => column < 0 || column === change.strongest[p]);
  if (isStrongest) return null;
  const line = firstLine(change, numbers, first);
  if (!line || line.support.length < LEAST_SUPPORT * changed) return null;
  const end = first.until.map((next, p) => {
    const column = first.column[p];
    return column < 0 || next === field.frames ? next : column + Math.ceil(UP_TO_NEXT * (next - column));
  });
  const window = inStreak({ first: new Int32Array(field.positions), end }, kept, streak.shape[0]);
  const worked = workedStreak(streak, gain, kept, window);
  const fits = startMotions(line, "step", numbers, field.positions, options.exposureFraction).map((start) =>
    jointFit(worked.field, numbers, start),
  );
  const best = fits.reduce((least, fit) => (fit.sumOfSquares < least.sumOfSquares ? fit : least));
  const found = await followDivided(streak, gain, options, { look, motion: best.motion, window });
  return found.front ? found : null;
}

/** A window of the kept frames, in frames of the streak. */
function inStreak({ first, end }: StreakWindow, kept: readonly number[], frames: number): StreakWindow {
  const frameOf = (place: number) => (place < kept.length ? kept[place] : frames);
  return { first: first.map(frameOf), end: end.map(frameOf) };
}

function meet(a: StreakWindow | null, b: StreakWindow): StreakWindow {
  if (!a) return b;
  const first = b.first.map((value, p) => Math.max(value, a.first[p]));
  return { first, end: b.end.map((value, p) => Math.max(first[p], Math.min(value, a.end[p]))) };
}

/** The surer of two readings. */
export function surerReading(a: Found, b: Found | null): Found {
  const unsure = ({ front }: Found) => (front ? relativeUncertainty(front) : Number.POSITIVE_INFINITY);
  return b && unsure(b) < unsure(a) ? b : a;
}
