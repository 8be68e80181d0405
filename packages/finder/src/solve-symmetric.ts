/** A part of the greatest diagonal element added to all of them: where cells lie in one row some terms cannot be told, and are 0. */
const RIDGE = 1e-10;

/** Solves a symmetric positive system by Cholesky's decomposition.
 *  @param matrix  shape (n, n), of which the lower triangle is read, and overwritten
 *  @param right  shape (n,)
 *  @returns shape (n,); null where it has no solution */
export function solveSymmetric(matrix: readonly Float64Array[], right: Float64Array): Float64Array | null {
  const size = right.length;
  const ridge = RIDGE * Math.max(...matrix.map((row, i) => row[i]));
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i][j] + (i === j ? ridge : 0);
      for (let k = 0; k < j; k++) sum -= matrix[i][k] * matrix[j][k];
      if (i > j) matrix[i][j] = sum / matrix[j][j];
      else if (sum > 0) matrix[i][i] = Math.sqrt(sum);
      else return null;
    }
  }
  const solution = right.slice();
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < i; k++) solution[i] -= matrix[i][k] * solution[k];
    solution[i] /= matrix[i][i];
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) solution[i] -= matrix[k][i] * solution[k];
    solution[i] /= matrix[i][i];
  }
  return solution;
}
