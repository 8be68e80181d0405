import { THRESHOLD } from "./find-changes.js";
import { median } from "./median.js";

/** Samples on either side of which the medians are compared: what is gone again within so many hardly moves a median. */
const BESIDE = 33;
/** Samples from one median to the next, and medians between two that share no sample. */
const STRIDE = 4;
const APART = Math.ceil(BESIDE / STRIDE);
/** Standard deviation of the difference of two medians of so many normal samples, in noise levels: sqrt(pi / n). */
const OF_MEDIANS = Math.sqrt(Math.PI / BESIDE);

/** Two levels of a value of the descriptors, unit of the samples. */
export interface Levels {
  /** Which value. */
  readonly value: number;
  readonly from: number;
  readonly to: number;
}

/** A value of the descriptors that is another from some sample on, for long, whatever passes before and behind; the levels are
 *  medians. */
export interface LastingChange extends Levels {
  /** Last sample before; the next one is behind. */
  readonly before: number;
  /** Whether the value begins at the one level and ends at the other; what came, rested and went again does not. */
  readonly isKept: boolean;
}

/** Values that change for long: their medians before and behind differ by more than they do elsewhere. The greatest such change
 *  of every value.
 *  @param values  descriptors in steady light, in order of time
 *  @param noise  standard deviation of every value of one sample
 *  @param asked  which values are looked at */
export function findLasting(
  values: readonly Float64Array[],
  noise: Float64Array,
  asked: Iterable<number>,
): LastingChange[] {
  const count = values.length;
  const found: LastingChange[] = [];
  if (count < 2 * BESIDE + STRIDE) return found;
  for (const k of asked) {
    const series = Float64Array.from(values, (descriptor) => descriptor[k]);
    const medians = Float64Array.from({ length: Math.floor((count - BESIDE) / STRIDE) + 1 }, (_, j) =>
      median(series.subarray(j * STRIDE, j * STRIDE + BESIDE)),
    );
    const sizes = medians
      .subarray(0, medians.length - APART)
      .map((level, j) => Math.abs(medians[j + APART] - level) / (OF_MEDIANS * noise[k]));
    let at = 0;
    for (let j = 1; j < sizes.length; j++) if (sizes[j] > sizes[at]) at = j;
    const wander = Math.max(1, 1.4826 * median(sizes));
    if (!(sizes[at] > THRESHOLD * wander)) continue;
    const [from, to] = [medians[at], medians[at + APART]];
    const half = Math.abs(to - from) / 2;
    const isKept = Math.abs(medians[0] - from) < half && Math.abs(medians[medians.length - 1] - to) < half;
    found.push({
      value: k,
      before: bestSplit(series, at * STRIDE, (at + APART) * STRIDE + BESIDE, from, to) - 1,
      from,
      to,
      isKept,
    });
  }
  return found;
}

/** Where a series goes over from one level to another: the least sum of absolute departures. */
function bestSplit(series: Float64Array, start: number, end: number, from: number, to: number): number {
  let sum = 0;
  let least = 0;
  let best = start;
  for (let j = start; j < end; j++) {
    sum += Math.abs(series[j] - from) - Math.abs(series[j] - to);
    if (sum < least) [least, best] = [sum, j + 1];
  }
  return best;
}
