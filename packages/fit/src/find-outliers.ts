/** Indices of residuals too large to belong to the others: beyond `factor` robust standard deviations of the
 *  standardised residuals (1.4826 · median absolute value) and beyond `factor` standard uncertainties. At most a
 *  fifth of the points is ever named, the largest first.
 *  @param residuals  shape (N,)
 *  @param standardUncertainty  shape (N,), same unit, > 0
 *  @param factor  > 0, default 5
 *  @returns increasing indices; none where N < 5, of which a fifth is less than one
 *  @throws RangeError on lengths that differ, residuals that are not finite, an uncertainty or factor that is not > 0 */
export function findOutliers(
  residuals: readonly number[],
  standardUncertainty: readonly number[],
  factor = 5,
): number[] {
  if (standardUncertainty.length !== residuals.length)
    throw new RangeError(
      `standardUncertainty must have the length of residuals, ${residuals.length}, got ${standardUncertainty.length}`,
    );
  if (!(factor > 0)) throw new RangeError(`factor must be > 0, got ${factor}`);
  residuals.forEach((r, i) => {
    if (!Number.isFinite(r)) throw new RangeError(`residuals[${i}] must be finite, got ${r}`);
    if (!(standardUncertainty[i] > 0))
      throw new RangeError(`standardUncertainty[${i}] must be > 0, got ${standardUncertainty[i]}`);
  });
  const standardised = residuals.map((r, i) => Math.abs(r) / standardUncertainty[i]);
  const sorted = [...standardised].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const median = sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
  const limit = factor * Math.max(1, 1.4826 * median);
  return standardised
    .map((size, index) => ({ size, index }))
    .filter(({ size }) => size > limit)
    .sort((a, b) => b.size - a.size)
    .slice(0, Math.floor(residuals.length / 5))
    .map(({ index }) => index)
    .sort((a, b) => a - b);
}
