import { EVD, Matrix } from "ml-matrix";

/** Draws from a multivariate normal distribution of any rank.
 *  @param mean  shape (N,)
 *  @param covariance  shape (N, N)
 *  @see JCGM 101:2008, 6.4.8 */
export function normalVectors(
  mean: readonly number[],
  covariance: readonly (readonly number[])[],
): (normal: () => number) => number[] {
  // Entries of a plane map differ by powers of ten: brought to a unit diagonal first.
  const scale = covariance.map((row, k) => Math.sqrt(Math.max(0, row[k])));
  const unit = covariance.map((row, i) =>
    row.map((value, j) => (scale[i] > 0 && scale[j] > 0 ? value / scale[i] / scale[j] : 0)),
  );
  const { eigenvectorMatrix, realEigenvalues } = new EVD(new Matrix(unit), { assumeSymmetric: true });
  const axes = realEigenvalues.map((value) => Math.sqrt(Math.max(0, value)));
  return (normal) => {
    const along = axes.map((size) => size * normal());
    return mean.map(
      (value, i) => value + scale[i] * along.reduce((sum, a, k) => sum + eigenvectorMatrix.get(i, k) * a, 0),
    );
  };
}
