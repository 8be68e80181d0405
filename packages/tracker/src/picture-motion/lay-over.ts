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
  if (weights) copyWeights(weights, from, w);
  const ramp = new Float64Array(count);
  const pattern = new Float64Array(count);
  const gradient = new Float64Array(count);
  const residual = line.slice(from, to);
  const middle = (line.length - 1) / 2;
  for (let k = 0; k < count; k++) ramp[k] = from + k - middle;
  texture.fill(from - shift, 1, pattern, gradient);
  for (let k = 0; k < count; k++) gradient[k] = -gradient[k];
  const { effective, means, byRamp, byPattern, squares } = orthogonalise(
    w,
    ramp,
    pattern,
    gradient,
    residual,
  );
  if (effective < LEAST_SAMPLES) return null;
  const bounded = Math.max(0.5, Math.min(2, byPattern.residual));
  const lightRamp = byRamp.residual - bounded * byRamp.pattern;
  const offset = means.residual - bounded * means.pattern - lightRamp * means.ramp;
  const { information } = squares;
  return {
    from,
    to,
    gradient,
    residual,
    move: information > 0 ? squares.pull / information / bounded : 0,
    information,
    weight: w,
    effective,
    explained: (bounded ** 2 * squares.pattern) / effective,
    sum: squares.residual,
    light: { gain: bounded, ramp: lightRamp, offset },
  };
}

/** @param from  sample of the line at which `into` begins */
function copyWeights(
  weights: Pick<RegisteredShift, "from" | "weight">,
  from: number,
  into: Float64Array,
): void {
  const { weight } = weights;
  const end = Math.min(into.length, weight.length - (from - weights.from));
  for (let k = Math.max(0, weights.from - from); k < end; k++) into[k] = weight[from - weights.from + k];
}

/** Takes out of ramp, texture, gradient and residual, in this order, what lies along a constant and along those before, in
 *  place. One pass for each: what is taken out in it, and the products that the next one asks for.
 *  @returns Σ weight; what was taken out of each along the constant, the ramp and the texture; and what is left: squares of
 *    texture, gradient and residual, and the product of the last two */
function orthogonalise(
  w: Float64Array,
  ramp: Float64Array,
  pattern: Float64Array,
  gradient: Float64Array,
  residual: Float64Array,
) {
  const count = w.length;
  let effective = 0;
  let r = 0;
  let p = 0;
  let g = 0;
  let y = 0;
  for (let k = 0; k < count; k++) {
    effective += w[k];
    r += w[k] * ramp[k];
    p += w[k] * pattern[k];
    g += w[k] * gradient[k];
    y += w[k] * residual[k];
  }
  const over = (product: number, square: number) => (square > 0 ? product / square : 0);
  const means = {
    ramp: over(r, effective),
    pattern: over(p, effective),
    gradient: over(g, effective),
    residual: over(y, effective),
  };
  let rr = 0;
  let rp = 0;
  let rg = 0;
  let ry = 0;
  for (let k = 0; k < count; k++) {
    ramp[k] -= means.ramp;
    pattern[k] -= means.pattern;
    gradient[k] -= means.gradient;
    residual[k] -= means.residual;
    const weighed = w[k] * ramp[k];
    rr += weighed * ramp[k];
    rp += weighed * pattern[k];
    rg += weighed * gradient[k];
    ry += weighed * residual[k];
  }
  const byRamp = { pattern: over(rp, rr), gradient: over(rg, rr), residual: over(ry, rr) };
  let pp = 0;
  let pg = 0;
  let py = 0;
  for (let k = 0; k < count; k++) {
    pattern[k] -= byRamp.pattern * ramp[k];
    gradient[k] -= byRamp.gradient * ramp[k];
    residual[k] -= byRamp.residual * ramp[k];
    const weighed = w[k] * pattern[k];
    pp += weighed * pattern[k];
    pg += weighed * gradient[k];
    py += weighed * residual[k];
  }
  const byPattern = { gradient: over(pg, pp), residual: over(py, pp) };
  let gg = 0;
  let gy = 0;
  let yy = 0;
  for (let k = 0; k < count; k++) {
    gradient[k] -= byPattern.gradient * pattern[k];
    residual[k] -= byPattern.residual * pattern[k];
    gg += w[k] * gradient[k] * gradient[k];
    gy += w[k] * gradient[k] * residual[k];
    yy += w[k] * residual[k] * residual[k];
  }
  return {
    effective,
    means,
    byRamp,
    byPattern,
    squares: { pattern: pp, information: gg, pull: gy, residual: yy },
  };
}
