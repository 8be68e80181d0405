import type { Found } from "./follow-divided.js";
import type { FrontState } from "./front-model.js";
import { jointFit } from "./joint-fit.js";
import { meanOfStrips } from "./mean-of-strips.js";
import { streakNoise } from "./noise.js";
import { PositionFitter } from "./position-fitter.js";
import type { StripedStreak } from "./read-streak.js";
import { workedStreak } from "./worked-streak.js";

/** A strip is calm where the front leaves no more than this times the variance of its noise, or than it leaves of the calmest
 *  strip. */
const CALM = 1.5;
/** Where none shows noise alone, some must leave so many times as much as the calmest, or all are taken to be alike: less is how
 *  a front that is not quite the model's fits this way and that. */
const CLEARLY_MORE = 3;
/** Of fewer strips each is too much of the width. The two calmest stay in any case. */
const FEWEST_STRIPS = 4;
/** Levels of fewer frames do not tell what else changes beside the front. */
const FEWEST_FRAMES = 20;
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
  const [calmest, next] = left.toSorted((a, b) => a - b);
  const isAlike = left.every((one) => !Number.isFinite(one) || one <= CLEARLY_MORE * calmest);
  if (calmest > CALM && isAlike) return null;
  const most = Math.max(CALM, CALM * calmest, next);
  const leftOut = Array.from(left.keys()).filter((k) => Number.isFinite(left[k]) && left[k] > most);
  if (leftOut.length === 0) return null;
  return { streak: withoutStrips(streak, leftOut), leftOut };
}

/** A streak like one that was read so wide only as the strips that stay are together. */
function withoutStrips(streak: StripedStreak, leftOut: readonly number[]): StripedStreak {
  const stays = <T>(ofStrips: readonly T[]) => ofStrips.filter((_, k) => !leftOut.includes(k));
  const strips = stays(streak.strips);
  const stripCounts = stays(streak.stripCounts);
  const share = strips.length / streak.strips.length;
  return {
    ...streak,
    data: meanOfStrips(strips, stripCounts),
    strips,
    stripCounts,
    stripOffsetsPixels: stays(streak.stripOffsetsPixels),
    width: streak.width * share,
    effectiveRows: streak.effectiveRows === null ? null : streak.effectiveRows * share,
    roundingNoise: streak.roundingNoise / Math.sqrt(share),
  };
}

/** Variance of what the front leaves in each strip, in units of that of the strip's noise, in all frames, whichever of them
 *  it was followed in; infinite where it passes no position of the strip. */
function leftInStrips(streak: StripedStreak, found: Found): readonly number[] | null {
  const { front, kept, tangent, gain } = found;
  if (front?.motion.shape !== "step" || tangent !== 0) return null;
  if (streak.strips.length < FEWEST_STRIPS || kept.length < FEWEST_FRAMES) return null;
  const { motion, state } = front;
  const { strips, numbers, field } = workedStreak(streak, gain, kept);
  const shape = [field.frames, field.positions] as const;
  const departures = state.frontPixels.map(
    (pixels, k) => pixels - motion.interceptPixels - motion.slopePixelsPerFrame * numbers[k],
  );
  return strips.map((data, k) => {
    const inStrip = { ...field, data };
    const fitter = new PositionFitter(inStrip);
    const noise = streakNoise(data, shape, streak.roundingNoise) ** 2;
    const leftBy = (front: FrontState) =>
      leftWhereItPasses(fitter, front, streak.stripCounts[k], field.frames) / noise;
    const left = leftBy(state);
    if (left <= CALM || !Number.isFinite(left)) return left;
    return leftBy(jointFit(inStrip, numbers, motion, departures, { steps: STEPS, fitter }).state);
  });
}

/** Positions that the front does not pass in these frames tell nothing of it, whatever happens there. */
function leftWhereItPasses(
  fitter: PositionFitter,
  front: FrontState,
  counts: Float64Array,
  frames: number,
): number {
  fitter.begin(front);
  let sum = 0;
  let freedom = 0;
  for (let position = 0; position < counts.length; position++) {
    if (counts[position] === 0) continue;
    fitter.fit(position);
    if (!(fitter.inverse[2] > 0)) continue;
    sum += fitter.sumOfSquares;
    freedom += Math.max(0, frames - 2);
  }
  return freedom > 0 ? sum / freedom : Number.POSITIVE_INFINITY;
}
