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
/** Coefficients beyond the first and the last sample. */
const BEYOND = 4;

/** Between samples a cubic spline keeps fine texture that straight lines between them would blur, by an amount that
 *  varies with the part of a pixel. At samples it is what they are, and is worked out when more is asked for.
 *  @param samples  shape (N,), N >= 2; kept
 *  @see Unser, Aldroubi and Eden, IEEE Trans. Signal Process. 41 (1993) 821 (citation from memory) */
export function splineLine(samples: ArrayLike<number>, first = 0): SplineLine {
  let known: Float64Array | null = null;
  const coefficients = () => {
    known ??= coefficientsOf(samples);
    return known;
  };
  return {
    first,
    last: first + samples.length - 1,
    valueAt(place) {
      const k = Math.floor(place - first);
      const f = place - first - k;
      return f === 0 ? samples[k] : valueBetween(coefficients(), k, f);
    },
    slopeAt(place) {
      const k = Math.floor(place - first);
      return slopeBetween(coefficients(), k, place - first - k);
    },
    fill(place, stride, values, slopes) {
      const whole = Math.floor(place - first);
      const f = place - first - whole;
      if (f === 0) for (let n = 0, k = whole; n < values.length; n++, k += stride) values[n] = samples[k];
      else fillValues(coefficients(), whole, f, stride, values);
      if (slopes) fillSlopes(coefficients(), whole, f, stride, slopes);
    },
  };
}

/** Six times the coefficients of the spline, those of the mirrored samples beyond its ends. */
function coefficientsOf(samples: ArrayLike<number>): Float64Array {
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
  const scaled = new Float64Array(count + 2 * BEYOND);
  for (let k = 0; k < count; k++) scaled[k + BEYOND] = 6 * coefficients[k];
  for (let k = 1; k <= BEYOND; k++) {
    scaled[BEYOND - k] = 6 * coefficients[mirrored(-k)];
    scaled[BEYOND + end + k] = 6 * coefficients[mirrored(end + k)];
  }
  return scaled;
}

/** @param f  part of a pixel behind sample k */
function valueBetween(scaled: Float64Array, k: number, f: number): number {
  const at = k + BEYOND;
  const e = 1 - f;
  return (
    (e * e * e * scaled[at - 1] +
      (4 - 6 * f * f + 3 * f * f * f) * scaled[at] +
      (4 - 6 * e * e + 3 * e * e * e) * scaled[at + 1] +
      f * f * f * scaled[at + 2]) /
    6
  );
}

function slopeBetween(scaled: Float64Array, k: number, f: number): number {
  const at = k + BEYOND;
  const e = 1 - f;
  return (
    (-e * e * scaled[at - 1] +
      (3 * f * f - 4 * f) * scaled[at] +
      (4 * e - 3 * e * e) * scaled[at + 1] +
      f * f * scaled[at + 2]) /
    2
  );
}

function fillValues(scaled: Float64Array, k: number, f: number, stride: number, into: Float64Array): void {
  const e = 1 - f;
  const v0 = (e * e * e) / 6;
  const v1 = (4 - 6 * f * f + 3 * f * f * f) / 6;
  const v2 = (4 - 6 * e * e + 3 * e * e * e) / 6;
  const v3 = (f * f * f) / 6;
  for (let n = 0, at = k + BEYOND; n < into.length; n++, at += stride)
    into[n] = v0 * scaled[at - 1] + v1 * scaled[at] + v2 * scaled[at + 1] + v3 * scaled[at + 2];
}

function fillSlopes(scaled: Float64Array, k: number, f: number, stride: number, into: Float64Array): void {
  const e = 1 - f;
  const s0 = (-e * e) / 2;
  const s1 = (3 * f * f - 4 * f) / 2;
  const s2 = (-3 * e * e + 4 * e) / 2;
  const s3 = (f * f) / 2;
  for (let n = 0, at = k + BEYOND; n < into.length; n++, at += stride)
    into[n] = s0 * scaled[at - 1] + s1 * scaled[at] + s2 * scaled[at + 1] + s3 * scaled[at + 2];
}
