/** Cubic spline through samples one apart, for values between them. */
export interface SplineLine {
  /** Place of the first sample. */
  readonly first: number;
  /** Place of the last sample. */
  readonly last: number;
  /** @param place  `first`..`last`; nearer the ends than a pixel the spline is that of the mirrored samples */
  valueAt(place: number): number;
  /** Derivative by the place. */
  slopeAt(place: number): number;
  /** Values, and derivatives where they are wanted, at `place`, `place + stride` …, `stride` a whole number: as `valueAt`
   *  and `slopeAt`, with the weights of the part of a pixel worked out once. */
  fill(place: number, stride: number, values: Float64Array, slopes?: Float64Array): void;
}

const POLE = Math.sqrt(3) - 2;
/** The filter's memory of samples further off is below 1e-10. */
const MEMORY = 18;

/** Between samples a cubic spline keeps fine texture that straight lines between them would blur, by an amount that
 *  varies with the part of a pixel.
 *  @param samples  shape (N,), N >= 2
 *  @see Unser, Aldroubi and Eden, IEEE Trans. Signal Process. 41 (1993) 821 (citation from memory) */
export function splineLine(samples: ArrayLike<number>, first = 0): SplineLine {
  const count = samples.length;
  const coefficients = new Float64Array(count);
  const mirrored = (k: number) => {
    const period = 2 * (count - 1);
    const folded = ((k % period) + period) % period;
    return folded < count ? folded : period - folded;
  };
  let causal = 0;
  for (let k = MEMORY; k >= 0; k--) causal = causal * POLE + samples[mirrored(k)];
  coefficients[0] = causal;
  for (let k = 1; k < count; k++) coefficients[k] = samples[k] + POLE * coefficients[k - 1];
  const end = count - 1;
  coefficients[end] = (POLE / (POLE * POLE - 1)) * (coefficients[end] + POLE * coefficients[end - 1]);
  for (let k = end - 1; k >= 0; k--) coefficients[k] = POLE * (coefficients[k + 1] - coefficients[k]);
  const at = (k: number) => 6 * coefficients[k < 0 || k >= count ? mirrored(k) : k];
  return {
    first,
    last: first + end,
    valueAt(place) {
      const k = Math.floor(place - first);
      const f = place - first - k;
      const e = 1 - f;
      return (
        (e * e * e * at(k - 1) +
          (4 - 6 * f * f + 3 * f * f * f) * at(k) +
          (4 - 6 * e * e + 3 * e * e * e) * at(k + 1) +
          f * f * f * at(k + 2)) /
        6
      );
    },
    slopeAt(place) {
      const k = Math.floor(place - first);
      const f = place - first - k;
      const e = 1 - f;
      return (
        (-e * e * at(k - 1) +
          (3 * f * f - 4 * f) * at(k) +
          (4 * e - 3 * e * e) * at(k + 1) +
          f * f * at(k + 2)) /
        2
      );
    },
    fill(place, stride, values, slopes) {
      const whole = Math.floor(place - first);
      const f = place - first - whole;
      const e = 1 - f;
      const [v0, v1] = [(e * e * e) / 6, (4 - 6 * f * f + 3 * f * f * f) / 6];
      const [v2, v3] = [(4 - 6 * e * e + 3 * e * e * e) / 6, (f * f * f) / 6];
      const [s0, s1] = [(-e * e) / 2, (3 * f * f - 4 * f) / 2];
      const [s2, s3] = [(-3 * e * e + 4 * e) / 2, (f * f) / 2];
      for (let n = 0, k = whole; n < values.length; n++, k += stride) {
        const [a, b, c, d] = [at(k - 1), at(k), at(k + 1), at(k + 2)];
        values[n] = v0 * a + v1 * b + v2 * c + v3 * d;
        if (slopes) slopes[n] = s0 * a + s1 * b + s2 * c + s3 * d;
      }
    },
  };
}
