import { Matrix } from "ml-matrix";
import type { FrontState } from "./front-model.js";
import type { PositionFitter } from "./position-fitter.js";

/** What one state of the front leaves of a streak, and how that changes with the front. */
export interface FitSums {
  readonly sumOfSquares: number;
  /** Of the residuals near the front, and their number. */
  readonly nearSquares: number;
  readonly nearCount: number;
  /** Normal matrix and gradient for [front at the middle, slope, log blur], levels projected out. */
  readonly normal: Matrix;
  readonly gradient: readonly number[];
}

/** Goes over all positions, the levels of each eliminated.
 *  @param middle  frame number about which the slope turns the front */
export function sumsOf(
  fitter: PositionFitter,
  state: FrontState,
  positions: number,
  frameNumbers: readonly number[],
  middle: number,
): FitSums {
  const { near, value, byFront, byLogBlur, residual, inverse } = fitter;
  let g0 = 0;
  let g1 = 0;
  let g2 = 0;
  let n00 = 0;
  let n01 = 0;
  let n02 = 0;
  let n11 = 0;
  let n12 = 0;
  let n22 = 0;
  let sumOfSquares = 0;
  let nearSquares = 0;
  let nearCount = 0;
  fitter.begin(state);
  for (let p = 0; p < positions; p++) {
    fitter.fit(p);
    const count = fitter.nearCount;
    sumOfSquares += fitter.sumOfSquares;
    nearCount += count;
    let p0 = 0;
    let p1 = 0;
    let p2 = 0;
    let v0 = 0;
    let v1 = 0;
    let v2 = 0;
    for (let n = 0; n < count; n++) {
      const d0 = byFront[n];
      const d1 = d0 * (frameNumbers[near[n]] - middle);
      const d2 = byLogBlur[n];
      const t = value[n];
      const r = residual[n];
      nearSquares += r * r;
      g0 += d0 * r;
      g1 += d1 * r;
      g2 += d2 * r;
      p0 += d0;
      p1 += d1;
      p2 += d2;
      v0 += d0 * t;
      v1 += d1 * t;
      v2 += d2 * t;
      n00 += d0 * d0;
      n01 += d0 * d1;
      n02 += d0 * d2;
      n11 += d1 * d1;
      n12 += d1 * d2;
      n22 += d2 * d2;
    }
    if (fitter.drifting) {
      for (const column of fitter.drifting.basis) {
        let a0 = 0;
        let a1 = 0;
        let a2 = 0;
        for (let n = 0; n < count; n++) {
          const d0 = byFront[n] * column[n];
          a0 += d0;
          a1 += d0 * (frameNumbers[near[n]] - middle);
          a2 += byLogBlur[n] * column[n];
        }
        n00 -= a0 * a0;
        n01 -= a0 * a1;
        n02 -= a0 * a2;
        n11 -= a1 * a1;
        n12 -= a1 * a2;
        n22 -= a2 * a2;
      }
      continue;
    }
    // Lost to the levels.
    const a = inverse[0];
    const b = inverse[1];
    const c = inverse[2];
    const w0 = a * p0 + b * v0;
    const w1 = a * p1 + b * v1;
    const w2 = a * p2 + b * v2;
    const u0 = b * p0 + c * v0;
    const u1 = b * p1 + c * v1;
    const u2 = b * p2 + c * v2;
    n00 -= p0 * w0 + v0 * u0;
    n01 -= p0 * w1 + v0 * u1;
    n02 -= p0 * w2 + v0 * u2;
    n11 -= p1 * w1 + v1 * u1;
    n12 -= p1 * w2 + v1 * u2;
    n22 -= p2 * w2 + v2 * u2;
  }
  const normal = new Matrix([
    [n00, n01, n02],
    [n01, n11, n12],
    [n02, n12, n22],
  ]);
  return { sumOfSquares, nearSquares, nearCount, normal, gradient: [g0, g1, g2] };
}
