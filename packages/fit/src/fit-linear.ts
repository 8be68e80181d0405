import { solveLeastSquares } from "./solve-least-squares.js";

/** A least-squares combination y = c0 + c1 x1 + c2 x2 + … */
export interface LinearFit {
  /** c0, c1, …; shape (1 + number of columns,) */
  readonly coefficients: readonly number[];
  /** Shape (P, P): residual variance over N − P, times (AᵀA)⁻¹. */
  readonly covariance: readonly (readonly number[])[];
  /** y − fitted y, shape (N,) */
  readonly residuals: readonly number[];
  /** sqrt(Σ r² / degreesOfFreedom) */
  readonly residualStandardDeviation: number;
  /** N − P */
  readonly degreesOfFreedom: number;
}

/** Several regressors and a constant by least squares, all points weighing the same: Householder QR on centred, scaled columns.
 *  @param regressors  x1, x2, …, each of shape (N,), N > number of regressors + 1
 *  @param y  shape (N,)
 *  @throws RangeError on lengths that differ, too few points, values that are not finite, or regressors that depend on each other */
export function fitLinear(regressors: readonly (readonly number[])[], y: readonly number[]): LinearFit {
  const terms = regressors.length + 1;
  if (!(y.length > terms)) throw new RangeError(`y must hold more than ${terms} points, got ${y.length}`);
  regressors.forEach((column, k) => {
    if (column.length !== y.length)
      throw new RangeError(`regressors[${k}] must have the length of y, ${y.length}, got ${column.length}`);
  });
  for (const [name, values] of [["y", y], ...regressors.map((r, k) => [`regressors[${k}]`, r])] as const) {
    const at = (values as readonly number[]).findIndex((value) => !Number.isFinite(value));
    if (at >= 0) throw new RangeError(`${name}[${at}] must be finite, got ${values[at]}`);
  }
  const means = regressors.map((column) => column.reduce((sum, value) => sum + value, 0) / y.length);
  const centred = regressors.map((column, k) => column.map((value) => value - means[k]));
  const solved = solveLeastSquares([y.map(() => 1), ...centred], y);
  if (!solved) throw new RangeError("regressors must not depend on each other, nor be constant");
  const { root, solution, residuals, sumOfSquares } = solved;
  const degreesOfFreedom = y.length - terms;
  // The constant was fitted at the means: c0 = solution[0] − Σ means[k] · c[k + 1].
  const fromMeans = (values: readonly number[]) =>
    values[0] - means.reduce((sum, mean, k) => sum + mean * values[k + 1], 0);
  for (let column = 0; column < terms; column++) root.set(0, column, fromMeans(root.getColumn(column)));
  const variance = sumOfSquares / degreesOfFreedom;
  return {
    coefficients: [fromMeans(solution), ...solution.slice(1)],
    covariance: root.mmul(root.transpose()).mul(variance).to2DArray(),
    residuals,
    residualStandardDeviation: Math.sqrt(variance),
    degreesOfFreedom,
  };
}
