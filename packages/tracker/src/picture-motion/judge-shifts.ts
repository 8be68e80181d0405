import { isMotion } from "./is-motion.js";
import type { MeanTexture } from "./mean-texture.js";
import {
  FEWEST_PLACED,
  HALF_RUN,
  LEAST_EXPLAINED,
  LEAST_PLACED,
  LEAST_SURE_PIXELS,
  MOST_LAGS,
} from "./motion-criteria.js";
import type { PictureShift } from "./picture-shift.js";
import type { RegisteredShift } from "./register-shift.js";
import { shiftVariance } from "./shift-variance.js";

/** Variance of the derivative of a cubic spline at its samples, for noise of variance 1: 9/2π ∫ sin²/(2 + cos)². */
export const SLOPE_OF_NOISE = 9 * (2 / Math.sqrt(3) - 1);
/** The gradient of the texture is seen where its squares are this many times what noise makes them. */
export const LEAST_TEXTURE = 6;
/** Each half of the texture bears this part of what tells the shift at least, or it is one edge and no texture. */
const LEAST_HALF = 0.1;

/** Σ gradient² in the two halves of the samples, and how much of both the noise of the texture feigns. */
export function gradientSquares(
  { from, gradient, weight, shiftPixels }: RegisteredShift,
  texture: MeanTexture,
  variance: number,
): { sum: [number, number]; ofNoise: number } {
  const sum: [number, number] = [0, 0];
  let ofNoise = 0;
  for (let k = 0; k < gradient.length; k++) {
    sum[halfOf(from + k - shiftPixels)] += weight[k] * gradient[k] ** 2;
    const averaged = Math.max(1, texture.framesAt(Math.round(from + k - shiftPixels)));
    ofNoise += (weight[k] * SLOPE_OF_NOISE * variance) / averaged;
  }
  return { sum, ofNoise };
}

function halfOf(place: number): number {
  return Math.floor(place / HALF_RUN) & 1;
}

/** The shifts of registered frames about their median, and whether they are those of a picture that moves.
 *  @param isOneEdge  the picture need not show texture beside one edge; nothing is then held against that edge
 *  @returns null where fewer than six frames, or half of those that show texture, are registered to a quarter of a pixel */
export function judgeShifts(
  registered: readonly (RegisteredShift | null)[],
  texture: MeanTexture,
  frames: number,
  positions: number,
  noiseFloor: number,
  { isMoving, isOneEdge }: { readonly isMoving: boolean; readonly isOneEdge: boolean },
): PictureShift | null {
  let squares = 0;
  let weights = 0;
  let count = 0;
  let seenFrames = 0;
  const products = new Float64Array(MOST_LAGS + 1);
  for (const seen of registered) {
    if (!seen) continue;
    seenFrames++;
    const { residual, weight } = seen;
    for (let k = 0; k < residual.length; k++) {
      squares += weight[k] * residual[k] ** 2;
      weights += weight[k];
      for (let lag = 0; lag <= MOST_LAGS && k + lag < residual.length; lag++)
        if (weight[k] > 0 && weight[k + lag] > 0) products[lag] += residual[k] * residual[k + lag];
      count++;
    }
  }
  const degreesOfFreedom = weights - 5 * seenFrames;
  if (seenFrames < FEWEST_PLACED || degreesOfFreedom <= 0) return null;
  const variance = Math.max(noiseFloor ** 2, squares / degreesOfFreedom);
  let alike = 1;
  for (let lag = 1; lag <= MOST_LAGS; lag++) {
    const correlation = products[lag] / products[0];
    if (!(correlation > 3 / Math.sqrt(count))) break;
    alike += 2 * correlation;
  }

  const shiftPixels = new Float64Array(frames).fill(Number.NaN);
  const standardUncertaintyPixels = new Float64Array(frames).fill(Number.POSITIVE_INFINITY);
  const halves: [number, number][] = [];
  registered.forEach((seen, i) => {
    if (!seen) return;
    const { from, gradient, residual, weight, shiftPixels: shift } = seen;
    const { sum: sums, ofNoise } = gradientSquares(seen, texture, variance);
    const pulls = [0, 0];
    for (let k = 0; k < gradient.length; k++)
      pulls[halfOf(from + k - shift)] += weight[k] * gradient[k] * residual[k];
    const all = sums[0] + sums[1];
    if (!(all > LEAST_TEXTURE * ofNoise && (isOneEdge || Math.min(...sums) > LEAST_HALF * all))) return;
    if (!(seen.explained > LEAST_EXPLAINED * seen.variance)) return;
    // A frame that the texture describes worse than the others is less sure.
    const own = Math.max(variance, seen.variance);
    const u = Math.sqrt((alike * own) / (all - ofNoise));
    if (!(u < LEAST_SURE_PIXELS)) return;
    shiftPixels[i] = shift;
    standardUncertaintyPixels[i] = u;
    halves[i] = isOneEdge ? [shift, shift] : [shift + pulls[0] / sums[0], shift + pulls[1] / sums[1]];
  });
  const known = Array.from(shiftPixels.keys()).filter((i) => !Number.isNaN(shiftPixels[i]));
  if (known.length < Math.max(FEWEST_PLACED, LEAST_PLACED * seenFrames)) return null;
  const moves = isMotion(
    known.map((i) => shiftPixels[i]),
    known.map((i) => standardUncertaintyPixels[i]),
    known.map((i) => halves[i]),
    isMoving,
  );
  const sorted = known.map((i) => shiftPixels[i]).sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1];
  for (const i of known) shiftPixels[i] -= middle;
  return {
    shiftPixels,
    standardUncertaintyPixels,
    degreesOfFreedom: Math.max(1, Math.floor(degreesOfFreedom)),
    variance,
    alike,
    moves,
    varianceOf: (of) => shiftVariance(of, registered, standardUncertaintyPixels, positions),
  };
}
