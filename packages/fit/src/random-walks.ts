/** Steps of the size, in its logarithm: many points tell it to a tenth. */
const LOG_STEP = Math.log(1.15);
/** How much farther the wander that takes its place goes than what is seen of it. */
const REACH = 30;

/** A random walk as the first-order autoregressive wander that it cannot be told from. */
export interface RandomWalk {
  /** Standard deviation of that wander, in units of y. */
  readonly tau: number;
  /** Correlation of samples one unit of x apart. */
  readonly correlation: number;
  /** Range of the logarithm of sizes for which it stands. */
  readonly logStep: number;
}

/** Random walks over x whose root mean square departure from their own straight lines runs over a range. Of n steps of
 *  variance s² it is s √(n / 15), by the closed form of the Brownian bridge about its line. A stationary wander of
 *  standard deviation τ and correlation ρ has steps of variance 2 τ² (1 − ρ), and where τ is far above all that is seen, the
 *  line's intercept takes up where it stands, and nothing is left that would bring it back.
 *  @param x  shape (N,), increasing
 *  @param logDeparture  log of the departures, from and to */
export function randomWalks(
  x: ArrayLike<number>,
  [from, to]: readonly [from: number, to: number],
): RandomWalk[] {
  const steps = Math.ceil((to - from) / LOG_STEP);
  const correlation = 1 - 15 / (2 * (x[x.length - 1] - x[0]) * REACH ** 2);
  return Array.from({ length: steps }, (_, k) => ({
    tau: REACH * Math.exp(from + (k + 0.5) * LOG_STEP),
    correlation,
    logStep: LOG_STEP,
  }));
}
