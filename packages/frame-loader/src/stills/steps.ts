/** Differences between neighbours.
 *  @param sorted  length N
 *  @returns length N - 1, or 0 where N is 0 */
export function steps(sorted: readonly number[]): number[] {
  return sorted.slice(1).map((value, i) => value - sorted[i]);
}

/** Greatest common divisor of whole numbers >= 0; 0 for none. */
export function commonDivisor(values: readonly number[]): number {
  let divisor = 0;
  for (const value of values) {
    let rest = value;
    while (rest !== 0) [divisor, rest] = [rest, divisor % rest];
  }
  return divisor;
}
