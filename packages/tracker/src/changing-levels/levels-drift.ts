import type { BrightnessField, FrontState, PositionModel } from "../model/front-model.js";

/** Means of what is left, at distances that grow by this factor, must be beyond so many of their standard deviations. */
const FACTOR = 1.6;
const SURE = 4;
const FEWEST_SAMPLES = 20;

/** Whether the levels ahead of a front or behind it drift alike at all positions, by the means of what constant levels leave
 *  at a distance from it: cheap to tell, and of noise or of what changes here and there nothing is left.
 *  @param models  with constant levels; each counts in the sense of its change, one that the front never passes in the sense of
 *    most
 *  @param noiseVariance  of a sample */
export function levelsDrift(
  { data, frames, positions, window }: BrightnessField,
  { sense, frontPixels }: FrontState,
  models: readonly PositionModel[],
  noiseVariance: number,
): boolean {
  const farthest = 2 * positions;
  const binOf = Int32Array.from({ length: farthest + 1 }, (_, pixels) =>
    Math.floor(Math.log(1 + pixels) / Math.log(FACTOR)),
  );
  const bins = binOf[farthest] + 1;
  // Ahead, then behind.
  const sums = new Float64Array(2 * bins);
  const counts = new Float64Array(2 * bins);
  const usual = models.reduce((sum, { change, inverse }) => sum + (inverse[2] > 0 ? change : 0), 0);
  for (const { position, before, change, inverse, near } of models) {
    const sign = Math.sign(inverse[2] > 0 ? change : usual);
    const first = window ? window.first[position] : 0;
    const end = window ? window.end[position] : frames;
    const [from, to] = near.length > 0 ? [near[0], near[near.length - 1]] : [end, end];
    for (let i = first; i < end; i++) {
      if (i >= from && i <= to) continue;
      const behind = sense * (frontPixels[i] - position);
      const bin = binOf[Math.min(farthest, Math.floor(Math.abs(behind)))] + (behind > 0 ? bins : 0);
      sums[bin] += sign * (data[i * positions + position] - before - (behind > 0 ? change : 0));
      counts[bin]++;
    }
  }
  return sums.some(
    (sum, k) => counts[k] >= FEWEST_SAMPLES && sum ** 2 > SURE ** 2 * noiseVariance * counts[k],
  );
}
