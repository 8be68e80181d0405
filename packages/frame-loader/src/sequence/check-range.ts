import type { FrameRange } from "../types.js";

/** Holds a range of indices against the number of frames.
 *  @returns the range with both ends
 *  @throws RangeError unless 0 <= start <= end <= count, in whole numbers */
export function checkRange(range: FrameRange | undefined, count: number): Required<FrameRange> {
  const { start = 0, end = count } = range ?? {};
  if (!Number.isInteger(start) || start < 0 || start > count) {
    throw new RangeError(`range.start must be a whole number from 0 to ${count}, got ${start}`);
  }
  if (!Number.isInteger(end) || end < start || end > count) {
    throw new RangeError(`range.end must be a whole number from ${start} to ${count}, got ${end}`);
  }
  return { start, end };
}
