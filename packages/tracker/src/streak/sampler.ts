import type { NdArray } from "ndarray";
import type { FrameRegion, FrameSamples, Point } from "../types.js";

/** Parts of the width whose streaks are kept apart, for the tilt of the front. */
const STRIPS = 8;

/** Where one streak is read: a path and the width across it. */
export interface Band {
  readonly path: readonly [Point, Point];
  readonly width: number;
}

/** Reads one band from each frame. */
export interface Sampler {
  readonly region: FrameRegion;
  readonly positions: number;
  readonly path: readonly [Point, Point];
  readonly width: number;
  readonly offsets: readonly number[];
  /** Samples averaged in each strip at each position; 0 where a strip lies outside the picture. */
  readonly counts: readonly Float64Array[];
  /** Adds one frame: fills line `frame` of each strip.
   *  @param acrossPixels  how far the picture lies to the right hand of the path's direction; default 0 */
  readonly sample: (
    picture: NdArray<FrameSamples>,
    strips: readonly Float64Array[],
    frame: number,
    acrossPixels?: number,
  ) => void;
  /** Every sample of one frame by itself: row-major, shape [width, positions]; NaN outside the picture. */
  readonly pixels: (picture: NdArray<FrameSamples>, into: Float32Array, acrossPixels?: number) => void;
}

/** First row of each strip, and after the last the number of rows: `count` rows in parts as equal as can be. */
export function stripStarts(count: number): number[] {
  const strips = Math.min(STRIPS, count);
  return Array.from({ length: strips + 1 }, (_, k) => Math.floor((k * count) / strips));
}

/** Middle of each strip, in rows from the first. */
export function stripMiddles(starts: readonly number[]): number[] {
  return starts.slice(1).map((next, k) => (starts[k] + next - 1) / 2);
}
