import type { RegisteredShift } from "./register-shift.js";
import type { SplineLine } from "./spline-line.js";

/** Fewer samples than this tell nothing. */
export const LEAST_SAMPLES = 12;

/** Least squares of the line on offset, ramp, texture and its derivative by the shift, one after the other made
 *  orthogonal to those before.
 *  @param weights  of the samples from `from` on, others count fully; null: all alike
 *  @returns null where too few samples show the texture */
export function layOver(
  texture: SplineLine,
  line: Float64Array,
  [wantedFrom, wantedTo]: readonly [number, number],
  shift: number,
  weights: Pick<RegisteredShift, "from" | "weight"> | null,
) {
  const from = Math.max(wantedFrom, Math.ceil(texture.first + shift));
  const to = Math.min(wantedTo, Math.floor(texture.last + shift) + 1);
  const count = to - from;
  if (count < LEAST_SAMPLES) return null;
  const w = new Float64Array(count).fill(1);
  if (weights)
    for (let k = 0, n = from - weights.from; k < count; k++, n++)
      if (n >= 0 && n < weights.weight.length) w[k] = weights.weight[n];
  const ramp = new Float64Array(count);
  const pattern = new Float64Array(count);
  const gradient = new Float64Array(count);
  const residual = new Float64Array(count);
  const middle = (line.length - 1) / 2;
  for (let k = 0, p = from; k < count; k++, p++) {
    ramp[k] = p - middle;
    residual[k] = line[p];
  }
  texture.fill(from - shift, 1, pattern, gradient);
  for (let k = 0; k < count; k++) gradient[k] = -gradient[k];
  const effective = w.reduce((sum, value) => sum + value, 0);
  if (effective < LEAST_SAMPLES) return null;
  const times = (a: Float64Array, b: Float64Array) => weightedProduct(w, a, b);
  const basis: { readonly of: Float64Array; readonly square: number }[] = [];
  const addToBasis = (of: Float64Array) => basis.push({ of, square: times(of, of) });
  /** Takes out of `vector` what lies along the basis; coefficients. */
  const reduce = (vector: Float64Array) =>
    basis.map(({ of, square }) => {
      const share = square > 0 ? times(of, vector) / square : 0;
      takeOut(vector, share, of);
      return share;
    });
  addToBasis(new Float64Array(count).fill(1));
  const [rampMean] = reduce(ramp);
  addToBasis(ramp);
  const [patternMean, patternRamp] = reduce(pattern);
  addToBasis(pattern);
  reduce(gradient);
  const [mean, slope, gain] = reduce(residual);
  const information = times(gradient, gradient);
  const bounded = Math.max(0.5, Math.min(2, gain));
  const move = information > 0 ? times(gradient, residual) / information / bounded : 0;
  const lightRamp = slope - bounded * patternRamp;
  return {
    from,
    to,
    gradient,
    residual,
    move,
    information,
    weight: w,
    effective,
    explained: (bounded ** 2 * times(pattern, pattern)) / effective,
    sum: times(residual, residual),
    light: { gain: bounded, ramp: lightRamp, offset: mean - bounded * patternMean - lightRamp * rampMean },
  };
}

function weightedProduct(weight: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < weight.length; k++) sum += weight[k] * a[k] * b[k];
  return sum;
}

function takeOut(vector: Float64Array, share: number, of: Float64Array): void {
  for (let k = 0; k < vector.length; k++) vector[k] -= share * of[k];
}
