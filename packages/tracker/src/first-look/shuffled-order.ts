/** Steps by which positions are put in another order, as shares of their number. */
export const SHUFFLES = [0.618, 0.382, 0.271];

/** Every position once, neighbours apart: what is found in that order is found by chance.
 *  @param share  of the number of positions by which each steps from the one before */
export function shuffledOrder(positions: number, share: number): number[] {
  const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));
  let step = Math.max(1, Math.round(share * positions));
  while (greatestDivisor(step, positions) > 1) step++;
  return Array.from({ length: positions }, (_, p) => (p * step) % positions);
}
