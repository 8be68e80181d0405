import type { CellGrid } from "./cell-grid.js";
import { median } from "./median.js";

/** Places looked at where the light steps most. */
const MOST_CANDIDATES = 3;

/** By how much most of the cells change from one frame to the next, which a front does to few of them at a time.
 *  @param frames  descriptors in order of time
 *  @returns shape (frames.length,), unit of the samples; 0 for the first */
export function stepsOf(frames: readonly Float64Array[], { cells }: CellGrid): Float64Array {
  return Float64Array.from(frames, (frame, i) =>
    i === 0 ? 0 : median(frame.subarray(0, cells).map((value, k) => value - frames[i - 1][k])),
  );
}

/** Indices of the greatest steps of either sense, greatest first, the first value left out. */
export function greatestSteps(steps: Float64Array): number[] {
  return Array.from(steps, (_, i) => i)
    .slice(1)
    .sort((a, b) => Math.abs(steps[b]) - Math.abs(steps[a]))
    .slice(0, MOST_CANDIDATES);
}
