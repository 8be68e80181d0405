import { median } from "./median.js";

/** Line through points by the medians of the slopes of all pairs and of what such a slope leaves (Theil, Proc. K. Ned.
 *  Akad. Wet. 53 (1950) 386; Sen, J. Am. Stat. Assoc. 63 (1968) 1379; citations from memory). The time is in proportion to the
 *  square of the number of points.
 *  @param x  shape (N,); pairs of equal x have no slope
 *  @param y  shape (N,)
 *  @returns slope and intercept, NaN where all x are equal */
export function theilSen(x: ArrayLike<number>, y: ArrayLike<number>): { slope: number; intercept: number } {
  const count = x.length;
  const slopes = new Float64Array((count * (count - 1)) / 2);
  let pairs = 0;
  for (let i = 0; i < count; i++)
    for (let j = i + 1; j < count; j++) if (x[i] !== x[j]) slopes[pairs++] = (y[j] - y[i]) / (x[j] - x[i]);
  const slope = median(slopes.subarray(0, pairs));
  const left = Float64Array.from({ length: count }, (_, i) => y[i] - slope * x[i]);
  return { slope, intercept: median(left) };
}
