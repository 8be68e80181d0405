import type { WanderingLineFit } from "@frontpace/fit";

export type Wander = WanderingLineFit["wander"];

/** The wander of parts of runs whose means wander as given: a first-order autoregressive process has the variance
 *  and lag-one covariance of its means in closed form.
 *  @param numbers  mean frame number of each run
 *  @param parts  of a run */
export function wanderWithinRuns(
  { standardDeviation, correlation }: Wander,
  numbers: readonly number[],
  parts: number,
): Wander {
  const length = Math.round(parts);
  if (length <= 1) return { standardDeviation, correlation };
  const step = (numbers[numbers.length - 1] - numbers[0]) / (numbers.length - 1);
  const wanted = correlation ** step;
  let low = 0;
  let high = 1;
  for (let halving = 0; halving < 40; halving++) {
    const middle = (low + high) / 2;
    const { variance, covariance } = ofMeans(middle, length);
    if (covariance / variance < wanted) low = middle;
    else high = middle;
  }
  return {
    standardDeviation: standardDeviation / Math.sqrt(ofMeans(low, length).variance),
    correlation: low ** (length / step),
  };
}

/** Variance, and covariance of neighbours, of the means of `length` samples with correlation ρ and variance 1. */
function ofMeans(correlation: number, length: number): { variance: number; covariance: number } {
  let variance = length;
  let covariance = 0;
  for (let k = 1; k < 2 * length; k++) {
    if (k < length) variance += 2 * (length - k) * correlation ** k;
    covariance += (length - Math.abs(length - k)) * correlation ** k;
  }
  return { variance: variance / length ** 2, covariance: covariance / length ** 2 };
}
