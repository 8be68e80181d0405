import { dot } from "./information.js";

/** A generalised least-squares line. */
export interface Line {
  readonly intercept: number;
  readonly slope: number;
  readonly slopeVariance: number;
  /** Shape (N,): the slope is their product with the ordinates. */
  readonly slopeWeights: Float64Array;
  /** log |Aᵀ V⁻¹ A|, A the columns 1 and x. */
  readonly logDeterminant: number;
  /** rᵀ V⁻¹ r of the residuals */
  readonly chiSquared: number;
}

/** The abscissae must be spread by more than this share of their range, each weighted by what is known there. */
const LEAST_SPREAD = 1e-12;

/** Generalised least-squares line for an inverse covariance V⁻¹ that is applied as a function. Abscissae and ordinates
 *  are centred with its weights and the plain line is taken out first, so that neither the normal equations nor
 *  the sum of squares is a difference of large numbers.
 *  @returns null where the inverse covariance does not determine a line */
export function solveLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  inverseCovarianceTimes: (v: ArrayLike<number>) => Float64Array,
): Line | null {
  const ones = new Float64Array(x.length).fill(1);
  const weights = inverseCovarianceTimes(ones);
  const total = dot(ones, weights);
  const centre = dot(weights, x) / total;
  const u = new Float64Array(x.length);
  for (let i = 0; i < u.length; i++) u[i] = x[i] - centre;
  const weightedU = inverseCovarianceTimes(u);
  const cross = dot(ones, weightedU);
  const slopeInformation = dot(u, weightedU) - cross ** 2 / total;
  const range = x[x.length - 1] - x[0];
  if (!(total > 0 && slopeInformation > total * (LEAST_SPREAD * range) ** 2)) return null;

  const level = dot(weights, y) / total;
  const trend = plainSlope(x, y);
  const v = new Float64Array(y.length);
  for (let i = 0; i < v.length; i++) v[i] = y[i] - level - trend * u[i];
  const p = dot(weights, v);
  const q = dot(weightedU, v);
  const turn = (q - (cross / total) * p) / slopeInformation;
  const offset = (p - cross * turn) / total;
  const slope = trend + turn;
  const slopeWeights = new Float64Array(x.length);
  for (let i = 0; i < slopeWeights.length; i++)
    slopeWeights[i] = (weightedU[i] - (cross / total) * weights[i]) / slopeInformation;
  return {
    slope,
    intercept: level + offset - slope * centre,
    slopeVariance: 1 / slopeInformation,
    slopeWeights,
    logDeterminant: Math.log(total) + Math.log(slopeInformation),
    chiSquared: Math.max(0, dot(v, inverseCovarianceTimes(v)) - offset * p - turn * q),
  };
}

/** Slope of unweighted least squares. */
function plainSlope(x: ArrayLike<number>, y: ArrayLike<number>): number {
  let centre = 0;
  let level = 0;
  for (let i = 0; i < x.length; i++) {
    centre += x[i];
    level += y[i];
  }
  centre /= x.length;
  level /= y.length;
  let products = 0;
  let squares = 0;
  for (let i = 0; i < x.length; i++) {
    products += (x[i] - centre) * (y[i] - level);
    squares += (x[i] - centre) ** 2;
  }
  return products / squares;
}

/** y − line, shape (N,). */
export function residualsOf(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  line: { intercept: number; slope: number },
): number[] {
  return Array.from(y, (value, i) => value - line.intercept - line.slope * x[i]);
}
