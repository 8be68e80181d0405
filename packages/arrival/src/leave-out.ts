import { studentFactor } from "@frontpace/fit";
import type { ShapeFit } from "./fit-shape.js";
import type { InFront } from "./in-front.js";
import { addObservation, emptyEquations, type NormalEquations, solveEquations } from "./normal-equations.js";
import type { Samples } from "./samples.js";

/** Blocks along the run and across it: neighbours err together. What they say is taken together. */
const BLOCKS: readonly (readonly [along: number, across: number])[] = [
  [4, 4],
  [7, 7],
];
/** Stretches of the run: cells that the front meets at one time may err together across the whole picture, as where a frame is missing. */
const STRETCHES: readonly [along: number, across: number] = [12, 1];
/** Twelve stretches scatter by chance: they count alone where the variance that they say is that many times the one of the blocks, which chance exceeds
 *  in 5 % (F distribution at 11 and 63 degrees of freedom). */
const BEYOND_CHANCE = 1.95;

export interface LeftOut {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** At 95 %. */
  readonly expandedUncertainty: number;
}

/** Uncertainty of figures of a fit by leaving out one part of the picture after the other: blocks of two sizes, or stretches of the run where those say
 *  more than chance does. On drawn fronts the largest of many sizes held the truth in 99 % instead of 95.
 *  @param figures  what is told, from the parameters
 *  @see Efron and Stein, Ann. Statist. 9 (1981) 586 (the jackknife, deleting groups; citation from memory) */
export function leaveOut(
  fit: ShapeFit,
  samples: Samples,
  inFront: InFront,
  figures: (parameters: Float64Array) => readonly number[],
): LeftOut[] {
  const variancesOf = (parts: readonly [along: number, across: number]) =>
    leavingOut(fit, samples, blockOf(fit, samples, inFront, parts), parts, figures);
  const bySize = BLOCKS.map(variancesOf);
  const inStretches = variancesOf(STRETCHES);
  return inStretches.map((stretches, k) => {
    const blocks = pooled(bySize.map((sizes) => sizes[k]));
    const { variance, degreesOfFreedom } =
      stretches.variance > BEYOND_CHANCE * blocks.variance ? stretches : blocks;
    const standardUncertainty = Math.sqrt(variance);
    return {
      standardUncertainty,
      degreesOfFreedom,
      expandedUncertainty: studentFactor(degreesOfFreedom) * standardUncertainty,
    };
  });
}

interface Variance {
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

/** Variance of every figure from what leaving out each block changes in it; infinite where there are too few. */
function leavingOut(
  fit: ShapeFit,
  samples: Samples,
  blocks: Int32Array,
  parts: readonly [along: number, across: number],
  figures: (parameters: Float64Array) => readonly number[],
): Variance[] {
  const here = figures(fit.parameters);
  const groups = equationsByBlock(fit, samples, blocks, parts);
  const all = total(groups, fit.model.parameters);
  const sums = here.map(() => 0);
  for (const group of groups) {
    const move = solveEquations(all, group);
    const there = move && figures(fit.parameters.map((value, k) => value + move[k]));
    here.forEach((value, k) => {
      sums[k] += there ? (there[k] - value) ** 2 : Number.POSITIVE_INFINITY;
    });
  }
  const count = groups.length;
  return here.map((_, k) => ({
    variance: count < 3 ? Number.POSITIVE_INFINITY : ((count - 1) / count) * sums[k],
    degreesOfFreedom: Math.max(1, count - 1),
  }));
}

/** Estimates of one variance as one. */
function pooled(estimates: readonly Variance[]): Variance {
  const degreesOfFreedom = estimates.reduce((sum, one) => sum + one.degreesOfFreedom, 0);
  const sum = estimates.reduce((of, one) => of + one.degreesOfFreedom * one.variance, 0);
  return { variance: sum / degreesOfFreedom, degreesOfFreedom };
}

/** Number of the block of every sample, of equal extent each way. */
export function blockOf(
  { used }: Pick<ShapeFit, "used">,
  { x, y }: Samples,
  inFront: InFront,
  [along, across]: readonly [number, number],
): Int32Array {
  const places = Array.from(x, (value, i) => inFront(value, y[i]));
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  places.forEach((place, i) => {
    if (used[i])
      for (const k of [0, 1]) {
        low[k] = Math.min(low[k], place[k]);
        high[k] = Math.max(high[k], place[k]);
      }
  });
  const at = (value: number, k: number, count: number) =>
    Math.min(count - 1, Math.max(0, Math.floor((count * (value - low[k])) / (high[k] - low[k] || 1))));
  return Int32Array.from(places, (place) => at(place[0], 0, along) * across + at(place[1], 1, across));
}

function equationsByBlock(
  { model, parameters, residuals, used }: ShapeFit,
  { x, y, weight }: Samples,
  blocks: Int32Array,
  [along, across]: readonly [number, number],
): NormalEquations[] {
  const groups = Array.from({ length: along * across }, () => emptyEquations(model.parameters));
  const counts = new Int32Array(along * across);
  const derivatives = new Float64Array(model.parameters);
  for (let i = 0; i < x.length; i++) {
    if (!used[i]) continue;
    model.time(parameters, x[i], y[i], derivatives);
    addObservation(groups[blocks[i]], derivatives, residuals[i], weight[i]);
    counts[blocks[i]]++;
  }
  return groups.filter((_, k) => counts[k] > 0);
}

function total(groups: readonly NormalEquations[], size: number): NormalEquations {
  const sum = emptyEquations(size);
  for (const { matrix, right } of groups) {
    for (let k = 0; k < matrix.length; k++) sum.matrix[k] += matrix[k];
    for (let k = 0; k < right.length; k++) sum.right[k] += right[k];
  }
  return sum;
}
