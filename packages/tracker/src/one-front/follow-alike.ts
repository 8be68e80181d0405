import { median } from "@frontpace/fit";
import type { FirstLine } from "../first-look/first-line.js";
import { startMotions } from "../first-look/start-motions.js";
import type { AlikeChanges, BrightnessField, PositionModel } from "../model/front-model.js";
import { type FrontMotion, jointFit } from "../model/joint-fit.js";
import { PositionFitter } from "../model/position-fitter.js";
import { workedStreak } from "../model/worked-streak.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";
import { ownChange } from "./seen-positions.js";

/** px a frame: what passes more slowly is seen at a position in several frames, unless it is thinner than any line that a
 *  camera shows. */
const LEAST_ADVANCE = 3;
/** Part of the positions that change that lie on the line. */
const LEAST_ON_LINE = 0.7;
/** Of the changes about their mean, a part of this: at first, and at least. */
const FIRST_SPREAD = 0.5;
const LEAST_SPREAD = 0.03;
/** Rounds in which line and changes settle between them, and what has settled. */
const ROUNDS = 8;
const SETTLED = 0.02;

/** Follows a thin line that passes so fast that a position sees it in one frame, or in none. With a change of its own such a
 *  position tells that the line is near, but not on which side, nor how far: only changes that are alike along the path
 *  tell. Their mean and their spread are estimated with the line.
 *  @param found  with the look at the streak, in whatever light it was looked at
 *  @returns null where no line passes that fast, or much besides it changes
 *  @throws what `options.pause` throws */
export async function followAlike(
  streak: StripedStreak,
  { look, kept, gain }: Pick<Found, "look" | "kept" | "gain">,
  options: FollowOptions,
): Promise<Found | null> {
  const line = look.candidates.find(({ shape }) => shape === "pulse")?.line;
  if (!line || Math.abs(line.framesPerPixel) * LEAST_ADVANCE > 1) return null;
  if (line.support.length < LEAST_ON_LINE * line.changed) return null;
  const { field, numbers } = workedStreak(streak, gain, kept);
  const fitter = new PositionFitter(field);
  const size = sizeAlong(field, line);
  const senses = options.sign === 0 ? [1, -1] : [options.sign];
  let best: AlikeFit | null = null;
  for (const shape of options.sign === 0 ? (["pulse", "pair"] as const) : (["pulse"] as const))
    for (const start of startMotions(line, shape, numbers, field.positions, options.exposureFraction))
      for (const sense of senses) {
        await options.pause();
        const fit = settledFit(field, fitter, numbers, start, sense * size, look.noise);
        if (!best || fit.cost < best.cost) best = fit;
      }
  return best && followDivided(streak, gain, options, { look, motion: best.motion });
}

interface AlikeFit {
  readonly motion: FrontMotion;
  /** −2 times the logarithm of the likelihood, less a constant. */
  readonly cost: number;
}

/** How far the positions of a line depart from their means where they do most, on the median. */
function sizeAlong({ data, frames, positions }: BrightnessField, { support }: FirstLine): number {
  return median(
    support.map((p) => {
      let sum = 0;
      let most = Number.NEGATIVE_INFINITY;
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i < frames; i++) {
        const value = data[i * positions + p];
        sum += value;
        most = Math.max(most, value);
        least = Math.min(least, value);
      }
      return Math.max(most - sum / frames, sum / frames - least);
    }),
  );
}

function settledFit(
  field: BrightnessField,
  fitter: PositionFitter,
  numbers: readonly number[],
  start: FrontMotion,
  change: number,
  noise: number,
): AlikeFit {
  let alike: AlikeChanges = { change, precision: (noise / (FIRST_SPREAD * change)) ** 2 };
  let motion = start;
  let cost = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const fit = jointFit(field, numbers, { ...motion, alike }, undefined, { fitter });
    motion = fit.motion;
    cost = costOf(fit.sumOfSquares, fit.models, alike, noise);
    const next = changesAlike(fit.models, alike, noise);
    const move = Math.abs(next.change / alike.change - 1) + Math.abs(next.precision / alike.precision - 1);
    alike = next;
    if (move < SETTLED) break;
  }
  return { motion: { ...motion, alike }, cost };
}

function costOf(
  sumOfSquares: number,
  models: readonly PositionModel[],
  { precision }: AlikeChanges,
  noise: number,
): number {
  let logarithms = 0;
  for (const { inverse } of models) logarithms -= Math.log(Math.min(1, precision * inverse[2]));
  return sumOfSquares / noise ** 2 + logarithms;
}

/** Mean and spread of the changes, each position weighing as much as its own samples tell of its change: one step of
 *  expectation and maximisation.
 *  @see Dempster, Laird and Rubin, J. R. Stat. Soc. B 39 (1977) 1 (citation from memory) */
function changesAlike(models: readonly PositionModel[], alike: AlikeChanges, noise: number): AlikeChanges {
  const spread = noise ** 2 / alike.precision;
  let weights = 0;
  let changes = 0;
  const told = models.flatMap((model) => {
    const own = ownChange(model, alike);
    if (!own) return [];
    const weight = 1 / (noise ** 2 * own.variance + spread);
    weights += weight;
    changes += weight * own.change;
    return [{ model, weight }];
  });
  if (!(weights > 0) || changes === 0) return alike;
  const change = changes / weights;
  let squares = 0;
  for (const { model, weight } of told)
    squares += weight * ((model.change - change) ** 2 + noise ** 2 * model.inverse[2]);
  const variance = Math.max(squares / weights, (LEAST_SPREAD * change) ** 2);
  return { change, precision: noise ** 2 / variance };
}
