import { BEYOND } from "./mean-texture.js";
import type { RegisteredShift } from "./register-shift.js";

/** Variance of a sum of shifts whose texture comes from the same frames: each place of the texture ties the frames that
 *  show it, so the information is diag(1/u²) − Σ g gᵀ/(n s²) over the places, n frames showing each with gradients g;
 *  solved by conjugate gradients. What all frames have in common is free: a common shift is none. */
export function shiftVariance(
  wanted: Float64Array,
  registered: readonly (RegisteredShift | null)[],
  standardUncertainties: Float64Array,
  positions: number,
): { readings: number; all: number } {
  const known = Array.from(registered.keys()).filter((i) => Number.isFinite(standardUncertainties[i]));
  // Per unit of gradient², so that a frame's own gradients sum to its information.
  const scaled = known.map((i) => {
    const { gradient, weight, from, shiftPixels } = registered[i] as RegisteredShift;
    const sum = gradient.reduce((total, g, k) => total + weight[k] * g * g, 0);
    const unit = 1 / (standardUncertainties[i] * Math.sqrt(sum));
    const g = gradient.map((value, k) => value * unit * Math.sqrt(weight[k]));
    return { g, place: from - Math.round(shiftPixels) + BEYOND };
  });
  const shown = new Float64Array(positions + 2 * BEYOND);
  for (const { g, place } of scaled) for (let k = 0; k < g.length; k++) shown[place + k]++;
  const diagonal = known.map((i) => 1 / standardUncertainties[i] ** 2);
  const times = (x: Float64Array) => {
    const tied = new Float64Array(shown.length);
    scaled.forEach(({ g, place }, n) => {
      for (let k = 0; k < g.length; k++) tied[place + k] += g[k] * x[n];
    });
    return x.map((value, n) => {
      const { g, place } = scaled[n];
      let sum = diagonal[n] * value;
      for (let k = 0; k < g.length; k++) sum -= (g[k] * tied[place + k]) / shown[place + k];
      return sum;
    });
  };
  const c = Float64Array.from(known, (i) => wanted[i]);
  const readings = known.reduce((sum, _, n) => sum + c[n] ** 2 / diagonal[n], 0);
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, n) => sum + value * b[n], 0);
  const x = new Float64Array(c.length);
  const r = Float64Array.from(c);
  let z = r.map((value, n) => value / diagonal[n]);
  let p = Float64Array.from(z);
  let rz = dot(r, z);
  const stop = 1e-6 * rz;
  for (let step = 0; step < 200 && rz > stop; step++) {
    const ap = times(p);
    const curvature = dot(p, ap);
    if (!(curvature > 0)) break;
    const alpha = rz / curvature;
    for (let n = 0; n < x.length; n++) {
      x[n] += alpha * p[n];
      r[n] -= alpha * ap[n];
    }
    z = r.map((value, n) => value / diagonal[n]);
    const next = dot(r, z);
    p = z.map((value, n) => value + (next / rz) * p[n]);
    rz = next;
  }
  return { readings, all: Math.max(readings, dot(c, x)) };
}
