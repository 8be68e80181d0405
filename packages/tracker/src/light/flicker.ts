import { median } from "@frontpace/fit";
import type { FrontState, PositionModel } from "../model/front-model.js";
import { isMoreThanNoise } from "./more-than-noise.js";

/** From frame to frame flicker counts where it is this many times what noise alone would show, root mean square. */
const SIGNIFICANT = 2.5;
/** Deeper than this, peak to peak, it is as likely something that fills the picture. */
const DEEPEST = 0.5;
/** One side of the front bears witness in a frame with this share of the brightness squared, and at all with this
 *  share of the frames. */
const LEAST_SIDE = 0.05;
const LEAST_FRAMES = 0.2;
/** Where more than this share of the frames show the front elsewhere, they bear witness by themselves: so many of them
 *  that follow each other. */
const MOSTLY_ALONE = 0.5;
const FEWEST_ALONE = 3;
/** Shallower than this it is not worth dividing out. */
const SHALLOWEST = 5e-4;

/** Brightness of the whole picture from frame to frame, as `lightBetweenFrames` has it; null also where it varies by more than flicker
 *  does. */
export function flickerBetweenFrames(
  data: Float64Array,
  shape: readonly [number, number],
  noise: number,
): Float64Array | null {
  const light = lightBetweenFrames(data, shape, noise);
  return light && isFlicker(light) ? light : null;
}

/** Whether light varies by no more than flicker does. */
export function isFlicker(light: Float64Array): boolean {
  return depthOf(light) <= DEEPEST;
}

/** Brightness of the whole picture from frame to frame, relative to its mean; null where it does not vary more
 *  than the noise explains. From one frame to the next the front crosses few positions, so the median ratio over
 *  all positions is that of the light.
 *  @param data  row-major, shape [frames, positions]
 *  @returns shape (frames,), mean 1 */
export function lightBetweenFrames(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
): Float64Array | null {
  if (frames < 4) return null;
  const gain = new Float64Array(frames);
  const steps: number[] = [];
  let bright = 0;
  let brightness = 0;
  for (let i = 1; i < frames; i++) {
    const ratios: number[] = [];
    for (let p = 0; p < positions; p++) {
      const mean = (data[i * positions + p] + data[(i - 1) * positions + p]) / 2;
      if (mean < 5 * noise) continue;
      ratios.push((data[i * positions + p] - data[(i - 1) * positions + p]) / mean);
      brightness += mean;
    }
    if (ratios.length < Math.max(8, positions / 10)) return null;
    bright += ratios.length;
    // The logarithm of the one brightness over the other.
    const step = 2 * Math.atanh(median(ratios) / 2);
    steps.push(step);
    gain[i] = gain[i - 1] + step;
  }
  const expected = (1.2533 * Math.SQRT2 * noise) / (brightness / bright) / Math.sqrt(bright / (frames - 1));
  const seen = Math.sqrt(steps.reduce((sum, step) => sum + step * step, 0) / steps.length);
  if (seen < SIGNIFICANT * expected) return null;
  return normalised(gain.map(Math.exp));
}

/** What a position shows, and when a front passed it. */
type LevelsAt = Pick<PositionModel, "position" | "before" | "change" | "near">;
type PassedBy = Pick<FrontState, "shape" | "sense" | "frontPixels">;

/** Sums over the positions on one side of the front, for each frame: of what they should show times what they do, and of
 *  its squares. */
interface SideSums {
  readonly product: Float64Array;
  readonly square: Float64Array;
}

/** Brightness of the whole picture in each frame against the model of what it should show, by least squares over
 *  all positions that the front is not just crossing; null where it varies no more than the noise explains, ahead
 *  of the front or behind it: a level behind that drifts by itself is not the light. Nor is it the light that changes
 *  while a front passes and at no other time: then it is the model that misses a part of the front.
 *  @param front  followed in the frames `kept`
 *  @returns shape (frames,), mean 1 */
export function flickerAgainstModel(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  { models, state }: { readonly models: readonly LevelsAt[]; readonly state: PassedBy },
  kept: readonly number[],
): Float64Array | null {
  const gain = new Float64Array(frames).fill(1);
  const told = new Int32Array(frames);
  const sums = { ahead: blankSums(frames), behind: blankSums(frames) };
  for (const model of models) addSides(sums, told, data, positions, model, state, kept);
  /** Gain and its variance by noise in each frame that shows nothing of the front under way, null in the others. */
  const alone: ({ readonly gain: number; readonly variance: number } | null)[] = [];
  const sides = { ahead: { seen: 0, expected: 0, frames: 0 }, behind: { seen: 0, expected: 0, frames: 0 } };
  for (let i = 0; i < frames; i++) {
    const product = sums.ahead.product[i] + sums.behind.product[i];
    const square = sums.ahead.square[i] + sums.behind.square[i];
    if (!(square > 0 && product > 0)) continue;
    gain[i] = product / square;
    alone[i] = told[i] === models.length ? { gain: gain[i], variance: noise ** 2 / square } : null;
    for (const side of ["ahead", "behind"] as const) {
      const ofSide = sums[side].square[i];
      if (!(ofSide > LEAST_SIDE * square)) continue;
      sides[side].seen += (sums[side].product[i] / ofSide - 1) ** 2;
      sides[side].expected += noise ** 2 / ofSide;
      sides[side].frames++;
    }
  }
  const flicker = normalised(gain);
  const isSeen = Object.values(sides).every(
    (side) => side.frames < LEAST_FRAMES * frames || isMoreThanNoise(side),
  );
  return isSeen && variesAlone(alone) && depthOf(flicker) > SHALLOWEST ? flicker : null;
}

function blankSums(frames: number): SideSums {
  return { product: new Float64Array(frames), square: new Float64Array(frames) };
}

/** Adds one position, in the frames in which the front is not near it.
 *  @param told  of each frame the positions added */
function addSides(
  { ahead, behind }: { readonly ahead: SideSums; readonly behind: SideSums },
  told: Int32Array,
  data: Float64Array,
  positions: number,
  { position, before, change, near }: LevelsAt,
  { shape, sense, frontPixels }: PassedBy,
  kept: readonly number[],
): void {
  const after = shape === "step" ? before + change : before;
  for (let k = 0, n = 0; k < kept.length; k++) {
    if (n < near.length && near[n] === k) {
      n++;
      continue;
    }
    const frame = kept[k];
    const isBehind = sense * (frontPixels[k] - position) > 0;
    const level = isBehind ? after : before;
    const side = isBehind ? behind : ahead;
    side.product[frame] += level * data[frame * positions + position];
    side.square[frame] += level * level;
    told[frame]++;
  }
}

/** Whether the light varies before a front passes or after it, where most frames show it elsewhere. */
function variesAlone(alone: readonly ({ gain: number; variance: number } | null)[]): boolean {
  if (alone.filter((frame) => frame !== null).length < MOSTLY_ALONE * alone.length) return true;
  const groups: { gain: number; variance: number }[][] = [[]];
  for (const frame of alone)
    if (frame) groups[groups.length - 1].push(frame);
    else groups.push([]);
  return groups.some((frames) => {
    if (frames.length < FEWEST_ALONE) return false;
    const mean = frames.reduce((sum, { gain }) => sum + gain / frames.length, 0);
    const seen = frames.reduce((sum, { gain }) => sum + (gain - mean) ** 2, 0);
    const expected = frames.reduce((sum, { variance }) => sum + variance * mean ** 2, 0);
    return isMoreThanNoise({ seen, expected, frames: frames.length });
  });
}

/** Peak to peak, relative to the mean. */
export function depthOf(gain: Float64Array): number {
  return (
    gain.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY) -
    gain.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY)
  );
}

function normalised(gain: Float64Array): Float64Array {
  const mean = gain.reduce((sum, value) => sum + value, 0) / gain.length;
  return gain.map((value) => value / mean);
}
