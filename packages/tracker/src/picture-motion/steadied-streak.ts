import type { StripedStreak } from "../streak/read-streak.js";
import { splineLine } from "./spline-line.js";

export interface SteadiedStreak {
  readonly streak: StripedStreak;
  /** Index in the streak as read of each frame kept. */
  readonly frames: readonly number[];
  /** Position in the streak as read, where the picture lies in the middle, of the first position kept. */
  readonly firstPosition: number;
}

/** Less of the path than this is none. */
const LEAST_POSITIONS = 16;
/** A spline reaches so far, px. */
const SPLINE_REACH = 2;

/** The streak with each frame's line moved back by its shift: positions that are in the picture in every frame, and
 *  frames whose shift is known.
 *  @param shiftPixels  shape (frames,), NaN: the frame is left out
 *  @returns null where fewer than three frames or sixteen positions are left */
export function steadiedStreak(streak: StripedStreak, shiftPixels: Float64Array): SteadiedStreak | null {
  const positions = streak.shape[1];
  const frames = Array.from(shiftPixels.keys()).filter((i) => !Number.isNaN(shiftPixels[i]));
  const shifts = frames.map((i) => shiftPixels[i]);
  const lowest = Math.min(0, ...shifts);
  const highest = Math.max(0, ...shifts);
  const firstPosition = Math.ceil(-lowest);
  const count = Math.floor(positions - 1 - highest) - firstPosition + 1;
  if (frames.length < 3 || count < LEAST_POSITIONS) return null;
  const moved = (data: Float64Array) => {
    const lines = new Float64Array(frames.length * count);
    frames.forEach((i, k) => {
      const spline = splineLine(data.subarray(i * positions, (i + 1) * positions));
      for (let p = 0; p < count; p++) lines[k * count + p] = spline.valueAt(firstPosition + p + shifts[k]);
    });
    return lines;
  };
  const reach = Math.ceil(Math.max(highest, -lowest)) + SPLINE_REACH;
  // A strip counts where it is whole, and was at every place that it is moved from.
  const stripCounts = streak.stripCounts.map((counts) =>
    Float64Array.from({ length: count }, (_, p) => {
      const at = firstPosition + p;
      return counts.subarray(Math.max(0, at - reach), at + reach + 1).reduce((a, b) => Math.min(a, b));
    }),
  );
  const strips = streak.strips.map((strip, k) =>
    moved(strip).map((value, at) => (stripCounts[k][at % count] === 0 ? 0 : value)),
  );
  const [[x1, y1], [x2, y2]] = streak.path;
  const at = (p: number) =>
    [x1 + ((x2 - x1) * p) / (positions - 1), y1 + ((y2 - y1) * p) / (positions - 1)] as const;
  return {
    frames,
    firstPosition,
    streak: {
      ...streak,
      data: moved(streak.data),
      shape: [frames.length, count],
      frameNumbers: frames.map((i) => streak.frameNumbers[i]),
      storedNumbers: frames.map((i) => streak.storedNumbers[i]),
      path: [at(firstPosition), at(firstPosition + count - 1)],
      strips,
      stripCounts,
    },
  };
}
