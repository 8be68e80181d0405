import type { NdArray } from "ndarray";

/** What the search for cracks needs of a frame sequence; any sequence with these members will do. Only its first and its last
 *  frames are read. */
export interface CrackSource {
  /** Frame numbers, strictly increasing, one per frame. */
  readonly numbers: readonly number[];
  readonly rows: number;
  readonly columns: number;
  frames(
    range?: { start?: number; end?: number },
    region?: undefined,
    options?: { signal?: AbortSignal },
  ): AsyncIterable<{ index: number; number: number; frame: NdArray<FrameSamples> }>;
}

export type FrameSamples = Uint8Array | Uint16Array | Float32Array;

/** A point in the picture, px: x is the column, y the row, whole numbers are pixel centres. */
export type Point = readonly [x: number, y: number];

/** What is left in the picture that was not there before, row-major, shape [rows, columns]. */
export interface ChangePicture {
  readonly rows: number;
  readonly columns: number;
  /** Change from the first frames to the last, lightly smoothed, over its own noise; signed. */
  readonly significance: Float64Array;
  /** 1 where most of that change is still there at the very end: what flies past leaves its way in a mean, and nothing there. */
  readonly lasts: Uint8Array;
  /** The same as it is, unit of the samples; and the change to the very last of the frames. */
  readonly change: Float64Array;
  readonly latestChange: Float64Array;
  /** Brightness of the whole picture in the last frames over that in the first, which is divided out. */
  readonly light: number;
  /** Mean brightness of the last frames. */
  readonly last: Float64Array;
}

/** A piece of crack between two nodes: an end, or a place where cracks part or meet. */
export interface CrackLine {
  /** Nodes that it joins, by their place in the list. */
  readonly from: number;
  readonly to: number;
  /** Smooth course, one point for every pixel of arc length, from node to node. */
  readonly points: readonly Point[];
  /** Length of the course, px. */
  readonly length: number;
}

/** The lines along which the picture was cracked. */
export interface CrackNetwork {
  readonly lines: readonly CrackLine[];
  readonly nodes: readonly Point[];
  /** Mean width of the lines as they are seen, px. */
  readonly width: number;
  readonly polarity: "bright" | "dark";
  /** How far the middle of the lines stands out of the picture, over the noise of a pixel in one frame; infinite where there is no noise. */
  readonly contrast: number;
  /** Mean brightness of the last frames, row-major, shape [rows, columns]: the picture in which the lines are seen. */
  readonly last: Float64Array;
}
