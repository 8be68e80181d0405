import { expect } from "vitest";

/** Relative, because a slope may be 1e-6 m a frame or 1e9 px/s: a count of decimals would pass anything for the one
 *  and nothing for the other. */
export function expectRelative(actual: number, expected: number, tolerance: number): void {
  const difference = Math.abs(actual - expected) / Math.abs(expected);
  expect(difference, `${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
}

/** Agrees with a number printed to `decimals` decimals: within half a unit of the last one. */
export function expectPrinted(actual: number, printed: number, decimals: number): void {
  // 1e-12 of a unit more, because a printed decimal is not a double
  const half = (0.5 + 1e-12) * 10 ** -decimals;
  expect(Math.abs(actual - printed), `${actual} against the printed ${printed}`).toBeLessThanOrEqual(half);
}
