import quantile from "@stdlib/stats-base-dists-t-quantile";

/** Two-sided Student factor: t such that a share `probability` lies within ±t.
 *  @param degreesOfFreedom > 0; Infinity gives the normal factor
 *  @param probability  between 0 and 1, default 0.95
 *  @throws RangeError on an argument outside its range
 *  @see JCGM 100:2008, G.3 */
export function studentFactor(degreesOfFreedom: number, probability = 0.95): number {
  if (!(degreesOfFreedom > 0)) throw new RangeError(`degreesOfFreedom must be > 0, got ${degreesOfFreedom}`);
  if (!(probability > 0 && probability < 1))
    throw new RangeError(`probability must lie between 0 and 1, got ${probability}`);
  return quantile((1 + probability) / 2, Math.min(degreesOfFreedom, 1e9));
}
