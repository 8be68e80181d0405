import type { NdArray } from "ndarray";

/** What the map needs of a frame sequence; any sequence with these members will do. It is read once or, where it is long, twice. */
export interface ArrivalSource {
  /** Frame numbers, strictly increasing, one per frame; gaps are gaps in time. */
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

export interface ArrivalMapOptions {
  /** Edge of the square cells whose mean brightness is timed, whole px >= 1. Default: the smallest with which the
   *  picture has no more than 40,000 cells, or four times that where a front is too faint for it. */
  readonly cell?: number;
  /** First frame number read, inclusive. Default: the first of the take. */
  readonly firstFrame?: number;
  /** Last frame number read, inclusive. Default: the last of the take. */
  readonly lastFrame?: number;
  readonly signal?: AbortSignal;
  /** Called after every frame of either pass. */
  readonly onProgress?: (progress: Progress) => void;
}

export interface Progress {
  readonly stage: string;
  readonly done: number;
  readonly total: number;
}

/** When the front arrived, for every cell of the picture. Arrays are row-major, shape [rows, columns]. */
export interface ArrivalMap {
  /** Edge of a cell, px; cell (r, c) is centred on x = (c + 1/2) cell − 1/2, y = (r + 1/2) cell − 1/2. */
  readonly cell: number;
  readonly rows: number;
  readonly columns: number;
  /** Time of arrival counted in frame numbers; NaN where no front arrived. `stays`: of the middle of the change;
   *  `passes`: of its centre of gravity. */
  readonly arrival: Float64Array;
  /** By the noise and by the spacing of the frames, frames; NaN where no front arrived. */
  readonly standardUncertainty: Float64Array;
  /** `stays`: level after less level before; `passes`: area of the passing change, in samples times frames. Unit of the samples. */
  readonly change: Float64Array;
  /** `stays`: the front leaves another level behind; `passes`: the level before comes back. */
  readonly kind: "stays" | "passes";
  /** `either`: some places grow brighter, others darker. */
  readonly polarity: "bright" | "dark" | "either";
  /** Arrivals before and after these times cannot be told, for want of frames before or after them. */
  readonly earliest: number;
  readonly latest: number;
  /** Frames from which a level before and one after were averaged, and half the length of the gap between them. */
  readonly levelFrames: number;
  readonly halfGapFrames: number;
  /** Standard deviation of the noise of a cell in one frame, unit of the samples. */
  readonly noise: number;
  /** Whether the brightness of the whole picture varied from frame to frame, and was divided out. */
  readonly flickers: boolean;
}
