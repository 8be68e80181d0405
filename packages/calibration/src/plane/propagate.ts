/** Standard uncertainty of a function of correlated inputs, by central differences: √(c Σ cᵀ).
 *  @param of  shape (N,) to a number
 *  @param values  shape (N,)
 *  @param covariance  shape (N, N)
 *  @see JCGM 100:2008, 5.2.2 */
export function propagated(
  of: (values: readonly number[]) => number,
  values: readonly number[],
  covariance: readonly (readonly number[])[],
): number {
  const slopes = values.map((value, k) => {
    const u = Math.sqrt(Math.max(0, covariance[k][k]));
    if (u === 0) return 0;
    const step = Math.max(0.05 * u, 1e-9 * Math.abs(value));
    return (of(values.with(k, value + step)) - of(values.with(k, value - step))) / (2 * step);
  });
  let variance = 0;
  for (let i = 0; i < slopes.length; i++)
    for (let j = 0; j < slopes.length; j++) variance += slopes[i] * covariance[i][j] * slopes[j];
  return Math.sqrt(Math.max(0, variance));
}
