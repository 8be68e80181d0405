import { median } from "@frontpace/fit";
import type { FrontState } from "../model/front-model.js";
import { jointFit } from "../model/joint-fit.js";
import { positionAt } from "../model/passage.js";
import { PositionFitter } from "../model/position-fitter.js";
import { workedStreak } from "../model/worked-streak.js";
import type { Found } from "../one-front/follow-divided.js";
import { streakNoise } from "../streak/noise.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { FEWEST_FRAMES, FEWEST_STRIPS, withoutStrips } from "./strips-that-stay.js";

/** A strip is calm where the front leaves no more than this times the variance of its noise, or than what is expected of a
 *  front that is not quite the model's: that grows with the square of its change in the strip. */
const CALM = 1.5;
/** Where none shows noise alone, some must leave so many times what is expected, or all are taken to be alike: less is how
 *  such a front fits this way and that. */
const CLEARLY_MORE = 3;
/** Part of the usual step, squared, in a strip that tells how the front differs from the model's. */
const LEAST_STEP = 0.25;
/** Steps after which a strip's own front is near enough to tell what it leaves. */
const STEPS = 4;

/** A streak of a part of the width. */
export interface CalmStreak {
  readonly streak: StripedStreak;
  /** Which strips were left out, increasing. */
  readonly leftOut: readonly number[];
}

/** The streak of those parts of the width in which nothing but the front changes. Fragments and glints cross a part of the
 *  width, and brighten or darken the mean of all of it for as long as they are there; beside them the front is as it was.
 *  A front that runs a little ahead in one part of the width is no such thing: each strip is judged about its own front.
 *  @returns null where all parts are calm; in fewer than 20 frames; where no front that stays was followed; and where it is
 *    tilted so much that it was followed in strips moved against each other */
export function calmStrips(streak: StripedStreak, found: Found): CalmStreak | null {
  const left = leftInStrips(streak, found);
  if (!left) return null;
  const [, next] = left.toSorted((a, b) => a.variance - b.variance);
  const usual = calmestOf(left);
  const expected = ({ step }: LeftInStrip) =>
    usual.step > 0 ? 1 + Math.max(0, usual.variance - 1) * (step / usual.step) : 1;
  const exceeds = (strip: LeftInStrip, times: number) =>
    Number.isFinite(strip.variance) && strip.variance > times * expected(strip);
  if (usual.variance > CALM && !left.some((strip) => exceeds(strip, CLEARLY_MORE))) return null;
  // The two calmest stay in any case.
  const least = Math.max(CALM, next.variance);
  const leftOut = left.flatMap((strip, k) => (strip.variance > least && exceeds(strip, CALM) ? [k] : []));
  if (leftOut.length === 0) return null;
  return { streak: withoutStrips(streak, leftOut), leftOut };
}

/** The calmest of the strips that the front changes about as much as it usually does: in one that it hardly changes nothing of it
 *  is left. */
function calmestOf(left: readonly LeftInStrip[]): LeftInStrip {
  const usual = median(left.map(({ step }) => step));
  return left
    .filter(({ step }) => step >= LEAST_STEP * usual)
    .reduce((calmest, strip) => (strip.variance < calmest.variance ? strip : calmest));
}

/** Whether some strip holds more than its own front and noise; false where strips are not compared. */
export function isAnyRestless(streak: StripedStreak, found: Found): boolean {
  const left = leftInStrips(streak, found) ?? [];
  return left.some(({ variance }) => Number.isFinite(variance) && variance > CALM);
}

/** What a front leaves in a strip, in units of the variance of the strip's noise: in all frames, whichever of them it was
 *  followed in. */
interface LeftInStrip {
  /** Infinite where it passes no position of the strip. */
  readonly variance: number;
  /** Mean square of its change. */
  readonly step: number;
}

function leftInStrips(streak: StripedStreak, found: Found): readonly LeftInStrip[] | null {
  const { front, kept, tangent, gain } = found;
  if (front?.motion.shape !== "step" || tangent !== 0) return null;
  if (streak.strips.length < FEWEST_STRIPS || kept.length < FEWEST_FRAMES) return null;
  const { motion, state } = front;
  const { strips, numbers, field } = workedStreak(streak, gain, kept);
  const shape = [field.frames, field.positions] as const;
  const departures = state.frontPixels.map((pixels, k) => pixels - positionAt(motion, numbers[k]));
  return strips.map((data, k) => {
    const inStrip = { ...field, data };
    const fitter = new PositionFitter(inStrip);
    const noise = streakNoise(data, shape, streak.roundingNoise) ** 2;
    const leftBy = (front: FrontState) =>
      leftWhereItPasses(fitter, front, { counts: streak.stripCounts[k], frames: field.frames, noise });
    const left = leftBy(state);
    if (left.variance <= CALM || !Number.isFinite(left.variance)) return left;
    return leftBy(jointFit(inStrip, numbers, motion, departures, { steps: STEPS, fitter }).state);
  });
}

/** Positions that the front does not pass in these frames tell nothing of it, whatever happens there. */
function leftWhereItPasses(
  fitter: PositionFitter,
  front: FrontState,
  {
    counts,
    frames,
    noise,
  }: { readonly counts: Float64Array; readonly frames: number; readonly noise: number },
): LeftInStrip {
  fitter.begin(front);
  let sum = 0;
  let freedom = 0;
  let squares = 0;
  let weights = 0;
  for (let position = 0; position < counts.length; position++) {
    if (counts[position] === 0) continue;
    fitter.fit(position);
    const variance = fitter.inverse[2];
    if (!(variance > 0)) continue;
    sum += fitter.sumOfSquares;
    freedom += Math.max(0, frames - 2);
    squares += fitter.change ** 2 / variance;
    weights += 1 / variance;
  }
  if (freedom === 0) return { variance: Number.POSITIVE_INFINITY, step: 0 };
  return { variance: sum / freedom / noise, step: squares / weights / noise };
}
