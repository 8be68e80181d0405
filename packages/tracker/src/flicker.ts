import type { PositionModel } from "./front-model.js";
import { median } from "./noise.js";

/** Flicker counts where it is this many times what noise alone would show, root mean square. */
const SIGNIFICANT = 2.5;
/** Deeper than this, peak to peak, it is no flicker but something that fills the picture. */
const DEEPEST = 0.5;
/** Shallower than this it is not worth dividing out. */
const SHALLOWEST = 1e-4;

/** Brightness of the whole picture from frame to frame, relative to its mean; null where it does not vary more
 *  than the noise explains. From one frame to the next the front crosses few positions, so the median ratio over
 *  all positions is that of the light.
 *  @param data  row-major, shape [frames, positions]
 *  @returns shape (frames,), mean 1 */
export function flickerBetweenFrames(
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
    const step = median(ratios);
    steps.push(step);
    gain[i] = gain[i - 1] + step;
  }
  const expected = (1.2533 * Math.SQRT2 * noise) / (brightness / bright) / Math.sqrt(bright / (frames - 1));
  const seen = Math.sqrt(steps.reduce((sum, step) => sum + step * step, 0) / steps.length);
  if (seen < SIGNIFICANT * expected || isOneJump(steps)) return null;
  const flicker = normalised(gain.map(Math.exp));
  return depthOf(flicker) > DEEPEST ? null : flicker;
}

/** Brightness of the whole picture in each frame against the model of what it should show, by least squares over
 *  all positions that the front is not just crossing; null where it varies no more than the noise explains.
 *  @param levelIn  brightness expected at a position in a frame, null where it cannot be told
 *  @returns shape (frames,), mean 1 */
export function flickerAgainstModel(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  models: readonly PositionModel[],
  levelIn: (model: PositionModel, frame: number) => number | null,
): Float64Array | null {
  const gain = new Float64Array(frames).fill(1);
  let seen = 0;
  let expected = 0;
  for (let i = 0; i < frames; i++) {
    let product = 0;
    let square = 0;
    for (const model of models) {
      const level = levelIn(model, i);
      if (level === null) continue;
      product += level * data[i * positions + model.position];
      square += level * level;
    }
    if (!(square > 0 && product > 0)) continue;
    gain[i] = product / square;
    seen += (gain[i] - 1) ** 2;
    expected += noise ** 2 / square;
  }
  const flicker = normalised(gain);
  return seen > SIGNIFICANT ** 2 * expected && depthOf(flicker) > SHALLOWEST ? flicker : null;
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

/** Whether the brightness changed once and for all (a lamp, an exposure jump, or a front that crossed everything
 *  between two frames) rather than flickering. */
function isOneJump(steps: readonly number[]): boolean {
  const squares = steps.map((step) => step * step).sort((a, b) => b - a);
  const total = squares.reduce((sum, value) => sum + value, 0);
  return squares[0] + (squares[1] ?? 0) > 0.8 * total;
}
