import { inverse, Matrix, solve } from "ml-matrix";

export interface LeastSquaresFit {
  readonly parameters: readonly number[];
  /** (JᵀJ)⁻¹, shape (P, P): the covariance for residuals of unit variance. */
  readonly cofactor: readonly (readonly number[])[];
  /** Sum of squared residuals. */
  readonly squares: number;
  /** Residuals less parameters. */
  readonly degreesOfFreedom: number;
}

const MOST_STEPS = 60;
/** A gain less than this share of the squares moves the parameters of a thousand samples by a thirtieth of their
 *  uncertainty. */
const SETTLED = 1e-6;
/** Relative step of central differences, about the cube root of the rounding error of doubles. */
const STEP = 6e-6;

type Residuals = (parameters: readonly number[]) => ArrayLike<number>;
/** Derivatives of the residuals after each parameter, shape (P, N). */
export type SlopesOf = (parameters: readonly number[]) => readonly ArrayLike<number>[];

/** Nonlinear least squares by Levenberg and Marquardt.
 *  @param residualsOf  parameters of order 1 to residuals, shape (N,), N >= P
 *  @param start  shape (P,)
 *  @param slopesOf  default: central differences
 *  @returns null where the parameters are not determined, or no finite residuals are met
 *  @see Marquardt, J. SIAM 11 (1963) 431 (citation from memory) */
export function leastSquares(
  residualsOf: Residuals,
  start: readonly number[],
  slopesOf: SlopesOf = (parameters) => centralDifferences(residualsOf, parameters),
): LeastSquaresFit | null {
  let parameters = [...start];
  let residuals = residualsOf(parameters);
  let squares = dot(residuals, residuals);
  if (!Number.isFinite(squares)) return null;
  let damping = 1e-3;
  let normal = normalOf(slopesOf(parameters), residuals);
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = damped(normal, damping);
    if (!move) return null;
    const next = parameters.map((value, k) => value + move[k]);
    const nextResiduals = residualsOf(next);
    const nextSquares = dot(nextResiduals, nextResiduals);
    if (!(nextSquares <= squares)) {
      damping *= 8;
      if (damping > 1e12) break;
      continue;
    }
    const settled = squares - nextSquares <= SETTLED * squares;
    parameters = next;
    residuals = nextResiduals;
    squares = nextSquares;
    damping = Math.max(1e-12, damping / 10);
    normal = normalOf(slopesOf(parameters), residuals);
    if (settled) break;
  }
  const cofactor = invert(normal.matrix);
  if (!cofactor) return null;
  return { parameters, cofactor, squares, degreesOfFreedom: residuals.length - parameters.length };
}

interface Normal {
  readonly matrix: number[][];
  readonly right: number[];
}

/** JᵀJ and −Jᵀr. */
function normalOf(slopes: readonly ArrayLike<number>[], residuals: ArrayLike<number>): Normal {
  const matrix: number[][] = slopes.map(() => []);
  for (let i = 0; i < slopes.length; i++)
    for (let j = 0; j <= i; j++) matrix[i][j] = matrix[j][i] = dot(slopes[i], slopes[j]);
  return { matrix, right: slopes.map((slope) => -dot(slope, residuals)) };
}

/** Derivatives after every parameter in turn.
 *  @returns shape (P, N) */
export function centralDifferences(of: Residuals, parameters: readonly number[]): Float64Array[] {
  return parameters.map((value, k) => {
    const step = STEP * Math.max(1, Math.abs(value));
    const above = of(parameters.with(k, value + step));
    const below = of(parameters.with(k, value - step));
    return Float64Array.from(above, (high, n) => (high - below[n]) / (2 * step));
  });
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n] * b[n];
  return sum;
}

function damped({ matrix, right }: Normal, damping: number): number[] | null {
  const raised = matrix.map((row, k) => row.with(k, row[k] * (1 + damping) + Number.MIN_VALUE));
  try {
    const move = solve(new Matrix(raised), Matrix.columnVector(right)).to1DArray();
    return move.every(Number.isFinite) ? move : null;
  } catch {
    return null;
  }
}

/** Inverse of a symmetric matrix, rows and columns brought to a unit diagonal first.
 *  @returns null where it is singular to rounding */
function invert(matrix: readonly (readonly number[])[]): number[][] | null {
  const scale = matrix.map((row, k) => 1 / Math.sqrt(row[k]));
  if (!scale.every(Number.isFinite)) return null;
  const unit = matrix.map((row, i) => row.map((value, j) => value * scale[i] * scale[j]));
  try {
    const inverted = inverse(new Matrix(unit)).to2DArray();
    const isSound = inverted.every((row, k) => row[k] >= 1 - 1e-6 && row[k] < 1e13);
    return isSound ? inverted.map((row, i) => row.map((value, j) => value * scale[i] * scale[j])) : null;
  } catch {
    return null;
  }
}
