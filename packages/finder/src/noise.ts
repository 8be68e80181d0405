import type { CellGrid } from "./cell-grid.js";
import { median } from "./median.js";

/** Noise of every value of the descriptors from one sample to the next: from second differences, in which slow drift
 *  cancels, by their median, in which single events do not show.
 *  @param values  descriptors in order of time, at least 3
 *  @param floor  least noise, shape (size,)
 *  @returns standard deviation of one sample, shape (size,) */
function sampleNoise(values: readonly Float64Array[], floor: Float64Array): Float64Array {
  const differences = new Float64Array(values.length - 2);
  return floor.map((least, k) => {
    for (let i = 0; i < differences.length; i++)
      differences[i] = Math.abs(values[i][k] - 2 * values[i + 1][k] + values[i + 2][k]);
    // 1.4826: median of absolute normal deviates to standard deviation; 6 = 1 + 4 + 1.
    return Math.max(least, (1.4826 * median(differences)) / Math.sqrt(6));
  });
}

/** Fewer samples tell no noise of their own. */
const FEWEST_FOR_NOISE = 16;

/** As `sampleNoise`, the greatest in any of the parts into which the samples are cut: in less light there is less of it.
 *  @param cuts  indices of the first samples of all parts but the first, increasing */
export function noiseOfParts(
  values: readonly Float64Array[],
  cuts: readonly number[],
  floor: Float64Array,
): Float64Array {
  const edges = [0, ...cuts, values.length];
  const parts = edges
    .slice(1)
    .map((end, i) => values.slice(edges[i], end))
    .filter((part) => part.length >= FEWEST_FOR_NOISE);
  if (parts.length < 2) return sampleNoise(values, floor);
  const noises = parts.map((part) => sampleNoise(part, floor));
  return floor.map((_, k) => Math.max(...noises.map((noise) => noise[k])));
}

/** A part of the samples no larger hardly moves a median. */
const SMALL_PART = 1 / 8;
/** By chance noise is hardly told so many times too large. */
const MORE = 1.5;

/** What a front leaves behind may be saturated or black, and have next to no noise: the noise of values that have much more on one side
 *  of a change than over all samples.
 *  @param noise  as told by all samples
 *  @param cut  index of the first sample behind the change
 *  @returns null where no value has more */
export function noiseBeside(
  values: readonly Float64Array[],
  noise: Float64Array,
  cut: number,
): Float64Array | null {
  if (Math.min(cut, values.length - cut) < Math.max(FEWEST_FOR_NOISE, SMALL_PART * values.length))
    return null;
  const beside = noiseOfParts(values, [cut], noise);
  if (!beside.some((value, k) => value > MORE * noise[k])) return null;
  return beside.map((value, k) => (value > MORE * noise[k] ? value : noise[k]));
}

const COUNTED_FROM = 3;

/** Root of the sum of squares, over the cells, of the change in noise levels; cells that change by less than three do not
 *  count.
 *  @param noise  standard deviation of one sample, shape (size,) */
export function cellStrength(
  before: Float64Array,
  after: Float64Array,
  noise: Float64Array,
  { cells }: CellGrid,
): number {
  let sum = 0;
  for (let k = 0; k < cells; k++) {
    const mean = Math.abs(after[k] - before[k]) / noise[k];
    const texture = Math.abs(after[cells + k] - before[cells + k]) / noise[cells + k];
    const greatest = Math.max(mean, texture);
    if (greatest >= COUNTED_FROM) sum += greatest * greatest;
  }
  return Math.sqrt(sum);
}

/** As `cellStrength`; where no cell changes the mean of the whole picture stands for them. */
export function changeStrength(
  before: Float64Array,
  after: Float64Array,
  noise: Float64Array,
  grid: CellGrid,
): number {
  const ofCells = cellStrength(before, after, noise, grid);
  if (ofCells > 0) return ofCells;
  const at = grid.size - 1;
  const whole = Math.abs(after[at] - before[at]) / noise[at];
  return whole >= COUNTED_FROM ? whole : 0;
}
