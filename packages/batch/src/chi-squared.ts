import { erf } from "@frontpace/fit";

/** How often a sum of squares of independent normal numbers is at least as large: the upper tail of chi squared.
 *  @param value  >= 0
 *  @param degreesOfFreedom  a whole number >= 1
 *  @see Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 26.4.4 and 26.4.5 (citation from memory) */
export function chiSquaredTail(value: number, degreesOfFreedom: number): number {
  const half = value / 2;
  const isOdd = degreesOfFreedom % 2 === 1;
  // Γ(a, x)/Γ(a) for a = 1/2 or 1, then from a to a + 1.
  let tail = isOdd ? 1 - erf(Math.sqrt(half)) : Math.exp(-half);
  let term = isOdd ? Math.exp(-half) * Math.sqrt(half / Math.PI) * 2 : half * Math.exp(-half);
  for (let a = isOdd ? 0.5 : 1; a < degreesOfFreedom / 2; a++) {
    tail += term;
    term *= half / (a + 1);
  }
  return tail;
}
