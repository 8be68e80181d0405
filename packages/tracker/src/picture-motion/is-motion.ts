/** The picture moves where the squares of its shifts are this many times what noise makes them, and six standard
 *  deviations more (common practice, no source); where the two halves of the texture agree; and by so much. */
const SIGNIFICANT = { times: 1.5, deviations: 6, agreement: 0.5 };
/** Of a picture that is known to move in the other direction. */
const LIKELY = { times: 1, deviations: 2, agreement: 0.2 };
const LEAST_MOTION_PIXELS = 0.02;

/** Whether shifts are those of a picture that moves.
 *  @param shifts  px, shape (N,)
 *  @param standardUncertainties  px, shape (N,)
 *  @param halves  px, shape (N, 2): what each half of the texture alone says of the shift
 *  @param isLikely  the picture is known to move the other way */
export function isMotion(
  shifts: readonly number[],
  standardUncertainties: readonly number[],
  halves: readonly (readonly [number, number])[],
  isLikely = false,
): boolean {
  const { times, deviations, agreement } = isLikely ? LIKELY : SIGNIFICANT;
  const weights = standardUncertainties.map((u) => 1 / (u * u));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const meanOf = (values: readonly number[]) =>
    values.reduce((sum, value, k) => sum + weights[k] * value, 0) / total;
  const mean = meanOf(shifts);
  const chiSquared = shifts.reduce((sum, shift, k) => sum + weights[k] * (shift - mean) ** 2, 0);
  const freedom = shifts.length - 1;
  if (chiSquared < times * freedom + deviations * Math.sqrt(2 * freedom)) return false;
  const excess = (chiSquared - freedom) / total;
  if (excess < LEAST_MOTION_PIXELS ** 2) return false;
  const means = [0, 1].map((half) => meanOf(halves.map((pair) => pair[half])));
  let product = 0;
  const squares = [0, 0];
  halves.forEach((pair, k) => {
    const [a, b] = pair.map((value, half) => value - means[half]);
    product += weights[k] * a * b;
    squares[0] += weights[k] * a * a;
    squares[1] += weights[k] * b * b;
  });
  return product > agreement * Math.sqrt(squares[0] * squares[1]);
}
