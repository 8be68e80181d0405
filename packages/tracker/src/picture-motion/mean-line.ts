import { LEAST_SAMPLES } from "./lay-over.js";
import { type SplineLine, splineLine } from "./spline-line.js";

/** Mean of lines laid over each other, from their sums and numbers at every place.
 *  @param beyond  places before the first position, px
 *  @returns null where too few places are shown by any */
export function meanLine(
  sums: ArrayLike<number>,
  counts: Float64Array | Int32Array,
  beyond: number,
): SplineLine | null {
  const first = counts.findIndex((n) => n > 0);
  const end = counts.findLastIndex((n) => n > 0) + 1;
  if (end - first < LEAST_SAMPLES) return null;
  const mean = new Float64Array(end - first);
  // A place that no frame shows lies between others only where all frames left it out: as beside it.
  for (let k = 0; k < mean.length; k++)
    mean[k] = counts[first + k] > 0 ? sums[first + k] / counts[first + k] : mean[k - 1];
  return splineLine(mean, first - beyond);
}
