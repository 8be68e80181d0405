import { seededNormal } from "./seeded-normal.js";

export interface Distribution {
  readonly mean: number;
  readonly standardUncertainty: number;
  /** Holds 95 %, as much beyond one end as beyond the other. */
  readonly interval: readonly [number, number];
  readonly trials: number;
}

/** Of the order of 10^4 is what JCGM 101 runs at a time (7.9.4); enough for one digit of an uncertainty, often two. */
const TRIALS = 10_000;

/** Propagates distributions by drawing from them; the same seed each time, so that the same input gives the same
 *  figures.
 *  @param draw  one value of the output from as many standard normal numbers as it asks for
 *  @see JCGM 101:2008, 7 */
export function monteCarlo(draw: (normal: () => number) => number, trials = TRIALS): Distribution {
  const normal = seededNormal(1);
  const values = Float64Array.from({ length: trials }, () => draw(normal)).sort();
  const mean = values.reduce((sum, v) => sum + v, 0) / trials;
  const variance = values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (trials - 1);
  const beyond = Math.round(0.025 * trials);
  return {
    mean,
    standardUncertainty: Math.sqrt(variance),
    interval: [values[beyond], values[trials - 1 - beyond]],
    trials,
  };
}

/** Whether a linear propagation may stand: both ends of its 95 % interval lie within half a unit of the first digit of
 *  the standard uncertainty of those that were drawn.
 *  @see JCGM 101:2008, 8.1 */
export function agreesWithLinear(value: number, standardUncertainty: number, drawn: Distribution): boolean {
  if (standardUncertainty === 0) return drawn.standardUncertainty === 0;
  const tolerance = 0.5 * 10 ** Math.floor(Math.log10(standardUncertainty));
  const half = NORMAL_975 * standardUncertainty;
  const [low, high] = drawn.interval;
  return Math.abs(value - half - low) <= tolerance && Math.abs(value + half - high) <= tolerance;
}

/** Standard normal quantile at 0.975. */
const NORMAL_975 = 1.959963984540054;
