/** A value with the standard uncertainty that it shares with no other. */
export interface IndependentValue {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** Values told apart into what each of them scatters by itself and what they differ by beyond that. */
export interface BetweenTakes {
  readonly mean: number;
  /** Of the mean, from both. */
  readonly standardUncertainty: number;
  /** Beyond the uncertainties of the values; 0 where these explain what the values differ by. */
  readonly betweenStandardDeviation: number;
  /** Share of each value in the mean. */
  readonly weights: readonly number[];
  /** Σ (value − mean)²/u² without anything between the values: chi squared with N − 1 degrees of freedom where nothing is. */
  readonly weightedSquares: number;
}

const MOST_STEPS = 200;

/** Weighted mean with the variance between the values for which Σ w (value − mean)² = N − 1, w = 1/(u² + between²). With
 *  equal uncertainties it is that of an analysis of variance: between² = s² − u².
 *  @param values  at least two, each with a standard uncertainty > 0
 *  @throws RangeError
 *  @see Paule and Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377 (citation from memory); JCGM 100:2008, H.5; ISO 5725-2:2019, 7.4 */
export function betweenTakes(values: readonly IndependentValue[]): BetweenTakes {
  if (values.length < 2) throw new RangeError(`values must be at least two, got ${values.length}`);
  for (const { value, standardUncertainty } of values)
    if (!Number.isFinite(value) || !(standardUncertainty > 0) || !Number.isFinite(standardUncertainty))
      throw new RangeError(`every value must have a standard uncertainty > 0, got ${standardUncertainty}`);
  let variance = 0;
  const first = weighted(values, 0);
  let now = first;
  // Convex and falling in the variance, so that Newton's steps come to the root from below.
  for (let step = 0; step < MOST_STEPS; step++) {
    const excess = now.squares - (values.length - 1);
    if (!(excess > 1e-12 * values.length)) break;
    variance += excess / now.slope;
    now = weighted(values, variance);
  }
  return {
    mean: now.mean,
    standardUncertainty: now.standardUncertainty,
    betweenStandardDeviation: Math.sqrt(variance),
    weights: now.weights,
    weightedSquares: first.squares,
  };
}

function weighted(values: readonly IndependentValue[], variance: number) {
  const raw = values.map(({ standardUncertainty: u }) => 1 / (u * u + variance));
  const total = raw.reduce((sum, w) => sum + w, 0);
  // About the first value: speeds differ in their last digits.
  const origin = values[0].value;
  const mean = origin + values.reduce((sum, { value }, i) => sum + raw[i] * (value - origin), 0) / total;
  let squares = 0;
  let slope = 0;
  values.forEach(({ value }, i) => {
    squares += raw[i] * (value - mean) ** 2;
    slope += raw[i] ** 2 * (value - mean) ** 2;
  });
  return {
    mean,
    squares,
    slope,
    standardUncertainty: Math.sqrt(1 / total),
    weights: raw.map((w) => w / total),
  };
}
