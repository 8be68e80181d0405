import { studentFactor } from "@frontpace/fit";
import type { ShapeFit } from "./fit-shape.js";
import { addObservation, emptyEquations, type NormalEquations, solveEquations } from "./normal-equations.js";
import type { Samples } from "./samples.js";

/** Places in the frame of the front: along its run, and across. */
export type InFront = (x: number, y: number) => readonly [along: number, across: number];

/** Blocks along the run and across it: neighbours err together, those that the front meets in the same frame and those that it meets one
 *  after the other. */
const BLOCKS: readonly (readonly [along: number, across: number])[] = [
  [12, 1],
  [1, 12],
  [4, 4],
  [7, 7],
];

export interface LeftOut {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** At 95 %. */
  readonly expandedUncertainty: number;
}

/** Uncertainty of figures of a fit by leaving out one block of the picture after the other, for blocks of several sizes; the largest counts.
 *  @param figures  what is told, from the parameters
 *  @see Efron and Stein, Ann. Statist. 9 (1981) 586 (the jackknife, deleting groups; citation from memory) */
export function leaveOut(
  fit: ShapeFit,
  samples: Samples,
  inFront: InFront,
  figures: (parameters: Float64Array) => readonly number[],
): LeftOut[] {
  const here = figures(fit.parameters);
  const bySize = BLOCKS.map((blocks) => {
    const groups = equationsByBlock(fit, samples, blockOf(fit, samples, inFront, blocks), blocks);
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
  });
  return here.map((_, k) => {
    const largest = bySize
      .map((sizes) => sizes[k])
      .reduce((most, next) => (next.variance > most.variance ? next : most));
    const standardUncertainty = Math.sqrt(largest.variance);
    const { degreesOfFreedom } = largest;
    return {
      standardUncertainty,
      degreesOfFreedom,
      expandedUncertainty: studentFactor(degreesOfFreedom) * standardUncertainty,
    };
  });
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
