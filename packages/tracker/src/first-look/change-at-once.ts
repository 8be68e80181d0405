import { dot } from "../model/dot.js";
import type { BrightnessField } from "../model/front-model.js";
import { meansInTime } from "../timing/means-in-time.js";

const ITERATIONS = 50;

/** What is left, as a sum of squares, of the best model in which all positions change together: brightness =
 *  level(position) + size(position) · course(frame), any course. A lamp, a drift or an exposure jump is of this
 *  kind; a front that moves is not. The largest singular value of the data, each position's mean removed, by
 *  power iteration: each passes once over the data, frame by frame. */
export function sumOfSquaresAtOnce({ data, frames, positions }: BrightnessField): number {
  const centred = withoutMeans(data, frames, positions);
  const total = dot(centred, centred);
  if (total === 0) return 0;
  let size = new Float64Array(positions);
  let length = 0;
  for (let i = 0; i < frames; i++) {
    const course = i - (frames - 1) / 2;
    length += course * course;
    addScaled(size, centred, i, course);
  }
  let largest = 0;
  for (let step = 0; step < ITERATIONS; step++) {
    const before = largest;
    largest = length > 0 ? dot(size, size) / length : 0;
    if (Math.abs(largest - before) < 1e-6 * largest) break;
    const next = new Float64Array(positions);
    const scale = 1 / Math.sqrt(dot(size, size));
    if (!Number.isFinite(scale)) break;
    length = 0;
    for (let i = 0; i < frames; i++) {
      const course = scale * dotWithFrame(size, centred, i);
      length += course * course;
      addScaled(next, centred, i, course);
    }
    size = next;
  }
  return Math.max(0, total - largest);
}

/** Data less each position's mean over the frames, row-major, shape [frames, positions]. */
function withoutMeans(data: Float64Array, frames: number, positions: number): Float64Array {
  const mean = meansInTime(data, frames, positions);
  const centred = new Float64Array(data.length);
  for (let i = 0, at = 0; i < frames; i++)
    for (let p = 0; p < positions; p++, at++) centred[at] = data[at] - mean[p];
  return centred;
}

/** Of a line and one frame; four sums side by side do not wait for one another. */
function dotWithFrame(line: Float64Array, data: Float64Array, frame: number): number {
  const { length } = line;
  const whole = length - (length % 4);
  const at = frame * length;
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  for (let p = 0; p < whole; p += 4) {
    a += line[p] * data[at + p];
    b += line[p + 1] * data[at + p + 1];
    c += line[p + 2] * data[at + p + 2];
    d += line[p + 3] * data[at + p + 3];
  }
  for (let p = whole; p < length; p++) a += line[p] * data[at + p];
  return a + b + (c + d);
}

function addScaled(line: Float64Array, data: Float64Array, frame: number, factor: number): void {
  for (let p = 0, at = frame * line.length; p < line.length; p++, at++) line[p] += factor * data[at];
}
