import { CholeskyDecomposition, inverse, Matrix } from "ml-matrix";
import type { DrawnTake } from "./draw-take.js";
import { edgeTable } from "./edge-table.js";
import { dirtOf } from "./render-take.js";

/** Cramér-Rao bounds of a drawn take, from its rendered noiseless profiles. */
export interface Bounds {
  /** Standard deviation of the front's position in each kept frame, px, levels before and after known:
   *  n² / Σ (dI/dx)² with n² the noise and 1/12 DN² of rounding. Infinity where the front is not in sight. */
  readonly framePixels: readonly number[];
  /** Standard deviation of the speed along the path relative to it, levels unknown at every pixel, smear and
   *  rounding included, wander of known size and correlation. */
  readonly relativeSpeed: number;
  /** The same with the uncertainty of scale and rate. */
  readonly relativeTotal: number;
}

/** @see A. Gatherer, Stanford CSL-TR-93-560 (1993), for the bound of an edge of any shape in white noise */
export function boundsOf(take: DrawnTake): Bounds {
  const { across, along, numbers, front, step, noise } = take;
  const edge = edgeTable(take.blurPixels, take.pixelsPerFrame * take.exposureFraction);
  const variance = noise ** 2 + 1 / 12;
  const dirt = dirtOf(take);
  const weight = new Float64Array(along);
  for (let r = 0; r < across; r++)
    for (let p = 0; p < along; p++) weight[p] += (step * dirt[r * along + p]) ** 2 / variance;

  const count = numbers.length;
  const known = new Float64Array(count);
  const information = Matrix.zeros(count, count);
  for (let p = 0; p < along; p++) {
    const value = numbers.map((number) => edge.value(front[number] - p));
    const slope = numbers.map((number) => edge.slope(front[number] - p));
    const near = slope.flatMap((s, i) => (s > 1e-12 ? [i] : []));
    if (near.length === 0) continue;
    const sumT = value.reduce((sum, t) => sum + t, 0);
    const sumTT = value.reduce((sum, t) => sum + t * t, 0);
    const determinant = count * sumTT - sumT * sumT;
    for (const i of near) {
      known[i] += weight[p] * slope[i] ** 2;
      for (const j of near) {
        if (j > i) break;
        const levels =
          determinant > 1e-9
            ? (sumTT - sumT * (value[i] + value[j]) + count * value[i] * value[j]) / determinant
            : 1 / count;
        const shared = weight[p] * slope[i] * slope[j];
        const sum = information.get(i, j) + (i === j ? shared : 0) - shared * levels;
        information.set(i, j, sum);
        information.set(j, i, sum);
      }
    }
  }
  const relativeSpeed = Math.sqrt(slopeVariance(take, information)) / take.pixelsPerFrame;
  return {
    framePixels: Array.from(known, (value) => 1 / Math.sqrt(value)),
    relativeSpeed,
    relativeTotal: Math.hypot(relativeSpeed, take.relativeScaleUncertainty, take.relativeRateUncertainty),
  };
}

/** Variance of the slope of a line through positions of the given information that wander besides. */
function slopeVariance({ numbers, wander }: DrawnTake, information: Matrix): number {
  const middle = numbers.reduce((sum, n) => sum + n, 0) / numbers.length;
  const design = new Matrix(numbers.map((number) => [1, number - middle]));
  let forLine = information;
  if (wander && wander.standardDeviation > 1e-6) {
    const covariance = new Matrix(
      numbers.map((a) =>
        numbers.map((b) => wander.standardDeviation ** 2 * wander.correlation ** Math.abs(a - b)),
      ),
    );
    const precision = inverse(covariance);
    // Half the sum with its transpose: the solver wants symmetry to the last digit.
    const both = information.clone().add(precision.clone().add(precision.transpose()).mul(0.5));
    const shrunk = new CholeskyDecomposition(both).solve(information);
    forLine = information.clone().sub(information.mmul(shrunk));
  }
  const normal = design.transpose().mmul(forLine).mmul(design);
  const determinant = normal.get(0, 0) * normal.get(1, 1) - normal.get(0, 1) ** 2;
  return determinant > 0 ? normal.get(0, 0) / determinant : Number.POSITIVE_INFINITY;
}
