import { explainsMore, gainsInFrames } from "./explains-more.js";
import { isMotion } from "./is-motion.js";
import { LEAST_SAMPLES } from "./lay-over.js";
import { MeanTexture } from "./mean-texture.js";
import {
  FEWEST_PLACED,
  HALF_RUN,
  LEAST_EXPLAINED,
  LEAST_PLACED,
  LEAST_SURE_PIXELS,
  MOST_LAGS,
} from "./motion-criteria.js";
import { type RegisteredShift, registerAtRest, registerShift } from "./register-shift.js";
import { shiftVariance } from "./shift-variance.js";
import { type SplineLine, splineLine } from "./spline-line.js";
import type { SteadySamples } from "./steady-samples.js";

/** Of each frame the samples from one to another, end exclusive. */
export type SamplesOfFrames = readonly (readonly [from: number, to: number])[];

/** How far the picture lies from where it lay, in each frame. */
export interface PictureShift {
  /** px along the path, shape (frames,), about their median; NaN where the texture does not tell. */
  readonly shiftPixels: Float64Array;
  /** Of the frame's own reading against the texture, shape (frames,); infinite where the texture does not tell. */
  readonly standardUncertaintyPixels: Float64Array;
  /** Samples less what was fitted to them. */
  readonly degreesOfFreedom: number;
  /** What the correlation of neighbouring samples adds to the variance of a shift. */
  readonly alike: number;
  /** Whether the picture moves: more than the noise explains, and in both halves of the texture alike. */
  readonly moves: boolean;
  /** Variance of Σ weight · shift, shape of the weights (frames,), px²: of the readings alone, and with the noise of the
   *  texture that all frames were laid over. */
  varianceOf(weights: Float64Array): { readonly readings: number; readonly all: number };
}

/** From one frame to the next the picture jumps this far at most, px. */
const SEARCH_PIXELS = 5;
const ROUNDS = 8;
/** Variance of the derivative of a cubic spline at its samples, for noise of variance 1: 9/2π ∫ sin²/(2 + cos)². */
const SLOPE_OF_NOISE = 9 * (2 / Math.sqrt(3) - 1);
/** The gradient of the texture is seen where its squares are this many times what noise makes them. */
const LEAST_TEXTURE = 6;
/** Each half of the texture bears this part of what tells the shift at least, or it is one edge and no texture. */
const LEAST_HALF = 0.1;

/** Shift of each frame along the path, from the texture ahead of the front, that nothing has changed yet; where the front
 *  has covered too much of that, from the texture that it leaves behind, if that is steady. The texture is what the frames
 *  show on the mean once each is moved back; it and the shifts are found in turn. Only along the path: a picture that
 *  moves across it shows other rows of its texture, which counts as noise of the texture.
 *  @param data  row-major, shape [frames, positions]
 *  @param noiseFloor  smallest believable standard deviation of a sample: without noise the foot of a front's own edge
 *    would be texture
 *  @param start  px, shape (frames,), where a registration with fewer samples undisturbed has been; else each frame is
 *    looked for about the one before
 *  @param isMoving  the picture is known to move, if not this way: less proof is asked for that it does
 *  @returns null where fewer than six frames, or half of those that show texture, are registered to a quarter of a pixel */
export function pictureShift(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  { ahead: undisturbed, behind }: SteadySamples,
  noiseFloor: number,
  { start, isMoving = false }: { readonly start?: Float64Array; readonly isMoving?: boolean } = {},
): PictureShift | null {
  const lineOf = (i: number) => data.subarray(i * positions, (i + 1) * positions);
  const splines: (SplineLine | undefined)[] = [];
  const splineOf = (i: number) => {
    splines[i] ??= splineLine(lineOf(i));
    return splines[i];
  };
  const still = new MeanTexture(positions);
  for (let i = 0; i < frames; i++) still.add(splineOf(i), lineOf(i), undisturbed[i], 0, null);
  const stillSpline = still.spline();
  if (!stillSpline) return null;
  let isTexture = start !== undefined;
  if (!start) {
    const atRest = Array.from({ length: frames }, (_, i) =>
      registerAtRest(stillSpline, lineOf(i), undisturbed[i], LEAST_EXPLAINED),
    );
    const first = judged(atRest, still, frames, positions, noiseFloor, isMoving);
    isTexture = first !== null;
    if (atRest.filter((seen) => seen !== null).length < FEWEST_PLACED) return null;
    // A picture that shakes blurs its own mean until that tells no shift.
    if (first && !first.moves) return first;
  }
  const shifts = new Float64Array(frames);
  const registered: (RegisteredShift | null)[] = Array.from({ length: frames }, () => null);
  let texture = new MeanTexture(positions);
  let last = 0;
  for (let i = 0; i < frames; i++) {
    const [from, to] = undisturbed[i];
    shifts[i] = start && !Number.isNaN(start[i]) ? start[i] : last;
    const spline = texture.spline();
    const seen =
      spline && registerShift(spline, lineOf(i), undisturbed[i], shifts[i], start ? 1 : SEARCH_PIXELS);
    if (spline && !seen) continue;
    if (!spline && to - from < LEAST_SAMPLES) continue;
    registered[i] = seen;
    if (seen) shifts[i] = seen.shiftPixels;
    last = shifts[i];
    texture.add(splineOf(i), lineOf(i), undisturbed[i], shifts[i], seen);
  }
  for (let round = 0; round < ROUNDS; round++) {
    const next = new MeanTexture(positions);
    for (let i = 0; i < frames; i++) {
      const seen = registered[i];
      if (!seen && round > 0) continue;
      if (!seen && undisturbed[i][1] - undisturbed[i][0] < LEAST_SAMPLES) continue;
      next.add(splineOf(i), lineOf(i), undisturbed[i], shifts[i], seen);
    }
    const spline = next.spline();
    if (!spline) return null;
    texture = next;
    let largest = 0;
    for (let i = 0; i < frames; i++) {
      const seen = registerShift(spline, lineOf(i), undisturbed[i], shifts[i], 0);
      registered[i] = seen;
      if (!seen) continue;
      largest = Math.max(largest, Math.abs(seen.shiftPixels - shifts[i]));
      shifts[i] = seen.shiftPixels;
    }
    if (largest < 0.003) break;
    // No texture at rest, and none that moves either, as far as the first round tells.
    if (!isTexture && !gainsInFrames(registered, stillSpline, lineOf)) return null;
  }
  const seen = judged(registered, texture, frames, positions, noiseFloor, isMoving);
  if (!seen?.moves) return seen;
  if (!explainsMore(seen, registered, stillSpline, lineOf, isTexture)) return { ...seen, moves: false };
  return withThoseBehind(seen, data, positions, behind, splineOf);
}

/** The frames that the texture ahead does not place, laid over what the others show behind the front. */
function withThoseBehind(
  seen: PictureShift,
  data: Float64Array,
  positions: number,
  behind: SamplesOfFrames,
  splineOf: (frame: number) => SplineLine,
): PictureShift {
  const lineOf = (i: number) => data.subarray(i * positions, (i + 1) * positions);
  const texture = new MeanTexture(positions);
  const shiftPixels = Float64Array.from(seen.shiftPixels);
  const standardUncertaintyPixels = Float64Array.from(seen.standardUncertaintyPixels);
  shiftPixels.forEach((shift, i) => {
    if (!Number.isNaN(shift)) texture.add(splineOf(i), lineOf(i), behind[i], shift, null);
  });
  const spline = texture.spline();
  if (!spline) return seen;
  const placed: number[] = [];
  let common = 0;
  let last = 0;
  shiftPixels.forEach((shift, i) => {
    if (!Number.isNaN(shift)) {
      last = shift;
      return;
    }
    const there = registerShift(spline, lineOf(i), behind[i], last, SEARCH_PIXELS);
    if (!there) return;
    const { sum, ofNoise } = gradientSquares(there, texture, there.variance);
    const all = sum[0] + sum[1];
    if (!(all > LEAST_TEXTURE * ofNoise)) return;
    const variance = (seen.alike * there.variance) / (all - ofNoise);
    if (!(variance < LEAST_SURE_PIXELS ** 2)) return;
    last = there.shiftPixels;
    shiftPixels[i] = last;
    standardUncertaintyPixels[i] = Math.sqrt(variance);
    placed.push(i);
    // What the noise of the texture behind does to all of them alike.
    common = Math.max(
      common,
      (variance * ofNoise) / (SLOPE_OF_NOISE * there.variance * there.gradient.length),
    );
  });
  return {
    ...seen,
    shiftPixels,
    standardUncertaintyPixels,
    varianceOf: (weights) => {
      const ahead = seen.varianceOf(weights);
      const own = placed.reduce((total, i) => total + weights[i] ** 2 * standardUncertaintyPixels[i] ** 2, 0);
      const alike = placed.reduce((total, i) => total + weights[i], 0) ** 2 * common;
      return { readings: ahead.readings + own, all: ahead.all + own + alike };
    },
  };
}

/** Σ gradient² in the two halves of the samples, and how much of both the noise of the texture feigns. */
function gradientSquares(
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

function judged(
  registered: readonly (RegisteredShift | null)[],
  texture: MeanTexture,
  frames: number,
  positions: number,
  noiseFloor: number,
  isMoving: boolean,
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
    if (!(all > LEAST_TEXTURE * ofNoise && Math.min(...sums) > LEAST_HALF * all)) return;
    if (!(seen.explained > LEAST_EXPLAINED * seen.variance)) return;
    // A frame that the texture describes worse than the others is less sure.
    const own = Math.max(variance, seen.variance);
    const u = Math.sqrt((alike * own) / (all - ofNoise));
    if (!(u < LEAST_SURE_PIXELS)) return;
    shiftPixels[i] = shift;
    standardUncertaintyPixels[i] = u;
    halves[i] = [shift + pulls[0] / sums[0], shift + pulls[1] / sums[1]];
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
    alike,
    moves,
    varianceOf: (of) => shiftVariance(of, registered, standardUncertaintyPixels, positions),
  };
}
