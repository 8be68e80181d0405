import type { FrameRange } from "../settings/check-against-frames.js";

/** Frames beside an event, on either side. */
export const FEWEST_BESIDE = 50;
const MOST_BESIDE = 500;

/** The frames of an event with others on either side, as far as the take goes.
 *  @param numbers  of the take's frames, increasing
 *  @param marginFrames  how many on either side; default: as many as the event has, but 50 to 500
 *  @returns indices, end exclusive */
export function eventRange(
  numbers: readonly number[],
  { firstFrame, lastFrame }: { readonly firstFrame: number; readonly lastFrame: number },
  marginFrames?: number,
): FrameRange {
  const first = indexAtLeast(numbers, firstFrame);
  const end = indexAtLeast(numbers, lastFrame + 1);
  const margin = marginFrames ?? Math.min(MOST_BESIDE, Math.max(FEWEST_BESIDE, end - first));
  return { start: Math.max(0, first - margin), end: Math.min(numbers.length, end + margin) };
}

/** Index of the first number >= wanted; all of them are less: their count. */
function indexAtLeast(numbers: readonly number[], wanted: number): number {
  let low = 0;
  let high = numbers.length;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (numbers[middle] >= wanted) high = middle;
    else low = middle + 1;
  }
  return low;
}
