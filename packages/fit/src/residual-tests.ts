import type { ResidualTests } from "./motion-types.js";
import { runsTest } from "./runs-test.js";

/** Two-sided 1 % of a normal distribution. */
const BEYOND = 2.58;
/** Beyond this the residuals say nothing of their number. */
const MOST_CORRELATION = 0.95;

/** Runs and lag-one correlation of the residuals of a fit of so many numbers.
 *  @param residuals  weighted, shape (N,) */
export function residualTests(residuals: readonly number[], numbersFitted: number): ResidualTests {
  const runs = runsTest(residuals);
  const autocorrelation = correctedCorrelation(residuals, numbersFitted);
  const isRandom = runs > -BEYOND && autocorrelation * Math.sqrt(residuals.length) < BEYOND;
  return { runs, autocorrelation, isRandom };
}

/** Lag-one correlation r1 corrected for P numbers fitted, r = (N r1 + P)/(N − 2P), which is (N r1 + 2)/(N − 4) for a line;
 *  0 where nothing is left over, or too few residuals tell. */
function correctedCorrelation(residuals: readonly number[], numbersFitted: number): number {
  const count = residuals.length;
  const squares = residuals.reduce((sum, r) => sum + r * r, 0);
  if (!(squares > 0) || count <= 2 * numbersFitted) return 0;
  const products = residuals.reduce((sum, r, i) => (i === 0 ? 0 : sum + r * residuals[i - 1]), 0);
  const corrected = (count * (products / squares) + numbersFitted) / (count - 2 * numbersFitted);
  return Math.max(-MOST_CORRELATION, Math.min(MOST_CORRELATION, corrected));
}

/** Below this many points the correlation of residuals cannot be estimated: three times the variance is taken. */
const FEW_POINTS = 20;
const FEW_POINTS_VARIANCE_FACTOR = 3;

/** By how much residuals that wander together raise the variance of what is fitted, f = (1 + r)/(1 − r) >= 1; below 20 points
 *  three. */
export function varianceInflation(residuals: readonly number[], numbersFitted: number): number {
  if (residuals.length < FEW_POINTS) return FEW_POINTS_VARIANCE_FACTOR;
  const r = Math.max(0, correctedCorrelation(residuals, numbersFitted));
  return (1 + r) / (1 - r);
}

/** What inflation leaves of N − P degrees of freedom: N/f − P where f was found in the residuals. */
export function inflatedFreedom(count: number, numbersFitted: number, inflation: number): number {
  return count < FEW_POINTS ? count - numbersFitted : Math.max(1, count / inflation - numbersFitted);
}
