import { type LeastSquares, solveLeastSquares } from "./solve-least-squares.js";

/** A curve with its slopes in the parameters. */
export interface Curve {
  /** Shape (N,) */
  readonly values: readonly number[];
  /** One column of shape (N,) for each parameter: ∂values/∂parameter. */
  readonly derivatives: readonly (readonly number[])[];
}

export interface NonlinearFitOptions {
  /** One standard uncertainty of each y, > 0: weights 1/u². Default: all points weigh the same. */
  readonly standardUncertainty?: readonly number[];
  /** Default: 2,000 */
  readonly mostSteps?: number;
}

export interface NonlinearFit {
  /** Shape (P,) */
  readonly parameters: readonly number[];
  /** (Jᵀ W J)⁻¹, shape (P, P): the covariance for absolute weights; times the residual variance for relative ones. */
  readonly unscaledCovariance: readonly (readonly number[])[];
  /** y − curve, shape (N,) */
  readonly residuals: readonly number[];
  /** Σ w r² */
  readonly chiSquared: number;
  /** false: the steps ended before the gradient vanished. */
  readonly converged: boolean;
}

/** The residuals are orthogonal to all slopes to this share of their length, or of that of y. */
const ORTHOGONAL = 1e-6;
const ROUNDING = 1e-13;
const SMALLEST_STEP = 1e-14;
const MOST_DAMPING = 1e16;

/** Nonlinear least squares by Levenberg and Marquardt: every step is a damped linear problem solved by QR, so that the
 *  digits are those of the slopes and not of their products. Steps into places where the curve is not finite are refused.
 *  @param curveAt  the curve at some parameters; values that are not finite mark parameters that are not allowed
 *  @param y  shape (N,), N > P
 *  @param start  shape (P,)
 *  @returns null where the start is not allowed, or the slopes at the end do not determine the parameters
 *  @see Marquardt, J. Soc. Indust. Appl. Math. 11 (1963) 431; Moré, Lecture Notes in Math. 630 (1978) 105 (citations from
 *    memory) */
export function fitNonlinear(
  curveAt: (parameters: readonly number[]) => Curve,
  y: readonly number[],
  start: readonly number[],
  { standardUncertainty, mostSteps = 2000 }: NonlinearFitOptions = {},
): NonlinearFit | null {
  const rootWeight = (i: number) => (standardUncertainty ? 1 / standardUncertainty[i] : 1);
  const evaluate = (parameters: readonly number[]): State | null => {
    const { values, derivatives } = curveAt(parameters);
    const residuals = y.map((value, i) => rootWeight(i) * (value - values[i]));
    const chiSquared = residuals.reduce((sum, r) => sum + r * r, 0);
    if (!Number.isFinite(chiSquared)) return null;
    const slopes = derivatives.map((column) => column.map((value, i) => rootWeight(i) * value));
    return { parameters, residuals, chiSquared, slopes };
  };
  const first = evaluate(start);
  if (!first) return null;
  const end = descend(first, evaluate, mostSteps);
  const solved = solveLeastSquares(end.slopes, end.residuals);
  if (!solved) return null;
  const size = Math.hypot(...y.map((value, i) => rootWeight(i) * value));
  return {
    parameters: end.parameters,
    unscaledCovariance: solved.root.mmul(solved.root.transpose()).to2DArray(),
    residuals: end.residuals.map((r, i) => r / rootWeight(i)),
    chiSquared: end.chiSquared,
    converged: isOrthogonal(end, ORTHOGONAL * Math.sqrt(end.chiSquared) + ROUNDING * size),
  };
}

interface State {
  readonly parameters: readonly number[];
  /** Weighted, shape (N,) */
  readonly residuals: readonly number[];
  readonly chiSquared: number;
  /** Weighted, P columns of shape (N,) */
  readonly slopes: readonly (readonly number[])[];
}

/** Steps down until none is left that is longer than rounding. */
function descend(
  first: State,
  evaluate: (parameters: readonly number[]) => State | null,
  mostSteps: number,
): State {
  let here = first;
  let damping = 1e-3;
  let lengths = first.parameters.map(() => 0);
  for (let step = 0; step < mostSteps && damping < MOST_DAMPING; step++) {
    const { parameters, slopes, residuals, chiSquared } = here;
    // Marquardt's scaling, never shrinking (Moré): the longest slope seen.
    lengths = slopes.map((column, k) => Math.max(lengths[k], Math.hypot(...column)));
    const move = damped(slopes, residuals, lengths, damping)?.solution;
    if (move?.every((value, k) => Math.abs(value) <= SMALLEST_STEP * Math.abs(parameters[k]))) break;
    const there = move && evaluate(parameters.map((value, k) => value + move[k]));
    if (there && there.chiSquared < chiSquared) {
      here = there;
      damping = Math.max(damping / 10, 1e-20);
    } else damping *= 4;
  }
  return here;
}

/** The step from a linear problem with rows √λ·D beneath the slopes. */
function damped(
  slopes: readonly (readonly number[])[],
  residuals: readonly number[],
  lengths: readonly number[],
  damping: number,
): LeastSquares | null {
  const root = Math.sqrt(damping);
  return solveLeastSquares(
    slopes.map((column, k) => [...column, ...lengths.map((length, m) => (m === k ? root * length : 0))]),
    [...residuals, ...lengths.map(() => 0)],
  );
}

/** @param length  of the part of the residuals that may lie along a slope */
function isOrthogonal({ slopes, residuals }: State, length: number): boolean {
  return slopes.every((column) => {
    const product = column.reduce((sum, value, i) => sum + value * residuals[i], 0);
    return Math.abs(product) <= length * Math.hypot(...column);
  });
}
