import { Matrix, QrDecomposition, solve } from "ml-matrix";

/** What minimises |A c − b|². */
export interface LeastSquares {
  /** c, shape (P,) */
  readonly solution: readonly number[];
  /** Shape (P, P), with root · rootᵀ = (AᵀA)⁻¹. */
  readonly root: Matrix;
  /** b − A c, shape (N,) */
  readonly residuals: readonly number[];
  /** |b − A c|² */
  readonly sumOfSquares: number;
}

/** Below this ratio of the pivots of R no digit of the solution is left. */
const SMALLEST_PIVOT = 1e-14;

/** Linear least squares by Householder QR, the columns scaled to unit length.
 *  @param columns  A, P columns of shape (N,), N >= P
 *  @param right  b, shape (N,)
 *  @returns null where a column depends on the others beyond rounding, or a value is not finite */
export function solveLeastSquares(
  columns: readonly (readonly number[])[],
  right: readonly number[],
): LeastSquares | null {
  const lengths = columns.map((column) => Math.hypot(...column));
  if (lengths.some((length) => !(length > 0 && length < Number.POSITIVE_INFINITY))) return null;
  const design = new Matrix(right.length, columns.length);
  columns.forEach((column, k) => {
    for (let i = 0; i < right.length; i++) design.set(i, k, column[i] / lengths[k]);
  });
  const qr = new QrDecomposition(design);
  const upper = qr.upperTriangularMatrix;
  const pivots = upper.diagonal().map(Math.abs);
  if (!(Math.min(...pivots) > SMALLEST_PIVOT * Math.max(...pivots))) return null;
  const scaled = qr.solve(Matrix.columnVector([...right]));
  const fitted = design.mmul(scaled).to1DArray();
  const residuals = right.map((value, i) => value - fitted[i]);
  const root = solve(upper, Matrix.eye(columns.length));
  for (let k = 0; k < columns.length; k++) root.mulRow(k, 1 / lengths[k]);
  return {
    solution: scaled.to1DArray().map((value, k) => value / lengths[k]),
    root,
    residuals,
    sumOfSquares: residuals.reduce((sum, value) => sum + value * value, 0),
  };
}
