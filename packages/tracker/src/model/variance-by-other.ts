/** A model that is less likely than this is ruled out. */
const RULED_OUT = 1e-6;

/** What it makes of the variance of a quantity that another model may be the right one.
 *  @param apart  the quantity by the other model, less that by the one that is taken
 *  @param leavesMore  sum of squares that the other leaves beyond it, in units of the noise variance */
export function varianceByOther(apart: number, leavesMore: number): number {
  const isOther = 1 / (1 + Math.exp(leavesMore / 2));
  return isOther < RULED_OUT ? 0 : apart ** 2 * isOther;
}
