import { Matrix, solve } from "ml-matrix";
import { driftingLevels, fitDriftingLevels } from "../model/drifting-levels.js";
import type { History } from "./position-histories.js";
import { type Relaxation, relaxingColumns } from "./relaxing-columns.js";

/** Lengths are tried from the shortest to the longest in so many equal ratios. */
const LENGTHS = 8;
/** Light that grows by more than this is none at the beginning or at the end. */
const MOST_GROWTH = 1;
/** Steps of the logarithm of a length when it is improved, so many of each at most, and differences by which the curvature is told. */
const FIRST_STEP = 0.4;
const LAST_STEP = 0.02;
const MOST_STEPS = 4;
const DIFFERENCE = 0.05;
/** What is known of the logarithm of a length before it is fitted, standard deviation: a factor of ten or so. */
const PRIOR = 2;

/** The parameters of a relaxation that are fitted to all positions together: logarithms of its lengths. */
export function parametersOf({ aheadPixels, behindPixels }: Relaxation): number[] {
  return [aheadPixels, behindPixels].flatMap((length) => (length === null ? [] : [Math.log(length)]));
}

export function withParameters(relaxation: Relaxation, values: readonly number[]): Relaxation {
  const { aheadPixels, behindPixels } = relaxation;
  return {
    ...relaxation,
    aheadPixels: aheadPixels === null ? null : Math.exp(values[0]),
    behindPixels: behindPixels === null ? null : Math.exp(values[values.length - 1]),
  };
}

/** The length of one part of a relaxation, tried over all of a range, at which least is left.
 *  @param range  shortest and longest, px */
export function triedLength(
  histories: readonly History[],
  relaxation: Relaxation,
  part: "aheadPixels" | "behindPixels",
  [shortest, longest]: readonly [number, number],
): Relaxation {
  const ratio = (longest / shortest) ** (1 / (LENGTHS - 1));
  return Array.from({ length: LENGTHS }, (_, k) => ({ ...relaxation, [part]: shortest * ratio ** k }))
    .map((option) => ({ option, left: leftOf(histories, option) }))
    .reduce((least, next) => (next.left < least.left ? next : least)).option;
}

/** The lengths near some at which least is left, each moved by steps that are halved where neither way is better, with the growth
 *  that the sizes at all positions tell.
 *  @param shortest  px; what falls off in less is a part of the front's edge
 *  @param noiseVariance  of a sample
 *  @returns with the variances of the logarithms of the lengths, as `parametersOf` orders them */
export function improvedRelaxation(
  histories: readonly History[],
  start: Relaxation,
  shortest: number,
  noiseVariance: number,
): { readonly relaxation: Relaxation; readonly variances: readonly number[] } {
  const leftBy = (relaxation: Relaxation) => leftOf(histories, relaxation) / noiseVariance;
  let relaxation = { ...start, growth: growthOf(histories, start) };
  let left = leftBy(relaxation);
  const moved = (k: number, step: number) => {
    const values = parametersOf(relaxation);
    if (values[k] + step < Math.log(shortest)) return false;
    const next = withParameters(relaxation, values.with(k, values[k] + step));
    const nextLeft = leftBy(next);
    if (!(nextLeft < left)) return false;
    [relaxation, left] = [next, nextLeft];
    return true;
  };
  const parameters = parametersOf(start).length;
  for (let step = FIRST_STEP; step > LAST_STEP; step /= 2)
    for (let k = 0; k < parameters; k++)
      for (const sign of [1, -1]) for (let go = 0; go < MOST_STEPS && moved(k, sign * step); go++);
  return { relaxation, variances: variancesAt(relaxation, left, leftBy) };
}

/** By how much the glow ahead grows, by a line through what it is at each position when the front passes. */
function growthOf(histories: readonly History[], relaxation: Relaxation): number {
  if (relaxation.aheadPixels === null) return 0;
  const told = histories.flatMap(({ samples, profile, passing }) => {
    const [ahead, ...others] = relaxingColumns(relaxation, passing);
    const { change, changeVariance } = fitDriftingLevels(
      driftingLevels(samples, [...others, profile]),
      ahead,
    );
    return changeVariance > 0 ? [[passing.runAtPassage, change, 1 / Math.sqrt(changeVariance)]] : [];
  });
  if (told.length < 2) return 0;
  const design = new Matrix(told.map(([run, , weight]) => [weight, weight * run]));
  const [atMiddle, byRun] = solve(
    design,
    Matrix.columnVector(told.map(([, change, weight]) => weight * change)),
    true,
  ).to1DArray();
  return Math.max(-MOST_GROWTH, Math.min(MOST_GROWTH, byRun / atMiddle)) || 0;
}

/** Sum of squares that the levels and the front leave. */
export function leftOf(histories: readonly History[], relaxation: Relaxation): number {
  let sum = 0;
  for (const { samples, profile, passing } of histories) {
    const levels = driftingLevels(samples, relaxingColumns(relaxation, passing));
    const { residual } = fitDriftingLevels(levels, profile);
    for (let i = 0; i < residual.length; i++) sum += residual[i] ** 2;
  }
  return sum;
}

/** Variance of each parameter where least is left: twice the inverse of the second derivative. What one is off by hardly moves the
 *  other, for they act on opposite sides of the front. */
function variancesAt(
  relaxation: Relaxation,
  left: number,
  leftBy: (relaxation: Relaxation) => number,
): readonly number[] {
  const values = parametersOf(relaxation);
  const leftBeside = (k: number, by: number) =>
    leftBy(withParameters(relaxation, values.with(k, values[k] + by)));
  return values.map((_, k) => {
    const curvature = (leftBeside(k, DIFFERENCE) + leftBeside(k, -DIFFERENCE) - 2 * left) / DIFFERENCE ** 2;
    return 2 / (Math.max(0, curvature) + 2 / PRIOR ** 2);
  });
}
