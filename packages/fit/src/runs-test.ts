/** How far the number of runs of one sign departs from that of residuals in random order, in standard deviations:
 *  negative where neighbours stay on one side of the line. Normal for some 10 residuals of either sign and more.
 *  @param residuals  shape (N,); zeros do not count
 *  @returns 0 where all are of one sign
 *  @throws RangeError on residuals that are not finite
 *  @see Wald and Wolfowitz, Ann. Math. Statist. 11 (1940) 147 (citation and formulae from memory); with
 *    NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.13 */
export function runsTest(residuals: readonly number[]): number {
  residuals.forEach((r, i) => {
    if (!Number.isFinite(r)) throw new RangeError(`residuals[${i}] must be finite, got ${r}`);
  });
  const signs = residuals.filter((r) => r !== 0).map(Math.sign);
  const positive = signs.filter((sign) => sign > 0).length;
  const negative = signs.length - positive;
  if (positive === 0 || negative === 0) return 0;
  const runs = signs.filter((sign, i) => i === 0 || sign !== signs[i - 1]).length;
  const product = 2 * positive * negative;
  const expected = product / signs.length + 1;
  const variance = (product * (product - signs.length)) / (signs.length ** 2 * (signs.length - 1));
  return variance > 0 ? (runs - expected) / Math.sqrt(variance) : 0;
}
