/** Welch-Satterthwaite: u⁴ / Σ uᵢ⁴/νᵢ for independent contributions uᵢ with νᵢ degrees of freedom; Infinity
 *  where all are infinite or nothing contributes. Not truncated to a whole number.
 *  @throws RangeError on lengths that differ or degrees of freedom that are not > 0
 *  @see JCGM 100:2008, G.4.1, equation (G.2b) */
export function effectiveDegreesOfFreedom(
  contributions: readonly number[],
  degreesOfFreedom: readonly number[],
): number {
  if (contributions.length !== degreesOfFreedom.length)
    throw new RangeError(
      `degreesOfFreedom must have the length of contributions, ${contributions.length}, got ${degreesOfFreedom.length}`,
    );
  degreesOfFreedom.forEach((value, i) => {
    if (!(value > 0)) throw new RangeError(`degreesOfFreedom[${i}] must be > 0, got ${value}`);
  });
  const combined = Math.hypot(...contributions);
  if (combined === 0) return Number.POSITIVE_INFINITY;
  return 1 / contributions.reduce((sum, u, i) => sum + (u / combined) ** 4 / degreesOfFreedom[i], 0);
}
