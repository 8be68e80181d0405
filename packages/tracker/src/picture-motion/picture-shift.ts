import { explainsMore, gainsInFrames } from "./explains-more.js";
import { gradientSquares, judgeShifts, LEAST_TEXTURE, SLOPE_OF_NOISE } from "./judge-shifts.js";
import { LEAST_SAMPLES } from "./lay-over.js";
import { MeanTexture } from "./mean-texture.js";
import { FEWEST_PLACED, LEAST_EXPLAINED, LEAST_SURE_PIXELS } from "./motion-criteria.js";
import { type RegisteredShift, registerAtRest, registerShift } from "./register-shift.js";
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
  /** Of a sample about the texture, DN². */
  readonly variance: number;
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
 *  @param isOneEdge  the shift of one edge will do, though one edge may move by itself, or be a front
 *  @returns null where fewer than six frames, or half of those that show texture, are registered to a quarter of a pixel */
export function pictureShift(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  { ahead: undisturbed, behind }: SteadySamples,
  noiseFloor: number,
  {
    start,
    isMoving = false,
    isOneEdge = false,
  }: { readonly start?: Float64Array; readonly isMoving?: boolean; readonly isOneEdge?: boolean } = {},
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
    const first = judgeShifts(atRest, still, frames, positions, noiseFloor, { isMoving, isOneEdge });
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
  const seen = judgeShifts(registered, texture, frames, positions, noiseFloor, { isMoving, isOneEdge });
  if (!seen?.moves) return seen;
  if (!explainsMore(seen, registered, stillSpline, lineOf, isTexture)) return { ...seen, moves: false };
  return withThoseBehind(seen, data, positions, behind, splineOf);
}

/** The frames that the texture ahead does not place, laid over what the others show behind the front, by the same rules: where it
 *  is black there is the front's own foot and no texture. */
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
    const own = Math.max(seen.variance, there.variance);
    const { sum, ofNoise } = gradientSquares(there, texture, own);
    const all = sum[0] + sum[1];
    if (!(all > LEAST_TEXTURE * ofNoise && there.explained > LEAST_EXPLAINED * own)) return;
    const variance = (seen.alike * own) / (all - ofNoise);
    if (!(variance < LEAST_SURE_PIXELS ** 2)) return;
    last = there.shiftPixels;
    shiftPixels[i] = last;
    standardUncertaintyPixels[i] = Math.sqrt(variance);
    placed.push(i);
    // What the noise of the texture behind does to all of them alike.
    common = Math.max(common, (variance * ofNoise) / (SLOPE_OF_NOISE * own * there.gradient.length));
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
