import { type Information, informationTimes } from "./information.js";
import { solveLine } from "./solve-line.js";
import { wanderPosterior } from "./wander-posterior.js";

/** Logarithm of how likely the positions are under a straight line with a wander of unknown size and correlation, up to a
 *  constant that the abscissae do not change: it compares readings of when the same positions were taken.
 *  @param x  shape (N,), N >= 3, strictly increasing
 *  @param y  shape (N,)
 *  @param information  shape (N, N), in 1/y²
 *  @returns −Infinity where the information does not determine a line
 *  @see fitWanderingLine for the priors */
export function lineEvidence(x: readonly number[], y: readonly number[], information: Information): number {
  const plain = solveLine(x, y, (v) => informationTimes(information, v));
  if (!plain) return Number.NEGATIVE_INFINITY;
  const logs = wanderPosterior(Float64Array.from(x), Float64Array.from(y), information, plain).map(
    ({ logWeight }) => logWeight,
  );
  const largest = logs.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  return largest + Math.log(logs.reduce((sum, value) => sum + Math.exp(value - largest), 0));
}
