import type { BrightnessField } from "./front-model.js";

const ITERATIONS = 50;

/** What is left, as a sum of squares, of the best model in which all positions change together: brightness =
 *  level(position) + size(position) · course(frame), any course. A lamp, a drift or an exposure jump is of this
 *  kind; a front that moves is not. The largest singular value of the data, each position's mean removed, by
 *  power iteration. */
export function sumOfSquaresAtOnce({ data, frames, positions }: BrightnessField): number {
  const mean = new Float64Array(positions);
  for (let at = 0; at < data.length; at++) mean[at % positions] += data[at] / frames;
  let total = 0;
  for (let at = 0; at < data.length; at++) total += (data[at] - mean[at % positions]) ** 2;
  if (total === 0) return 0;
  let course = Float64Array.from({ length: frames }, (_, i) => i - (frames - 1) / 2);
  let largest = 0;
  for (let step = 0; step < ITERATIONS; step++) {
    const size = new Float64Array(positions);
    for (let i = 0, at = 0; i < frames; i++)
      for (let p = 0; p < positions; p++, at++) size[p] += (data[at] - mean[p]) * course[i];
    const next = new Float64Array(frames);
    for (let i = 0, at = 0; i < frames; i++)
      for (let p = 0; p < positions; p++, at++) next[i] += (data[at] - mean[p]) * size[p];
    const norm = Math.sqrt(next.reduce((sum, value) => sum + value * value, 0));
    if (norm === 0) break;
    const before = largest;
    const length = course.reduce((sum, value) => sum + value * value, 0);
    largest = size.reduce((sum, value) => sum + value * value, 0) / length;
    course = next.map((value) => value / norm);
    if (Math.abs(largest - before) < 1e-6 * largest) break;
  }
  return Math.max(0, total - largest);
}
