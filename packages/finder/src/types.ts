import type { NdArray } from "ndarray";

/** What the finder needs of a frame sequence; any sequence with these members will do. */
export interface EventSource {
  /** Frame numbers, strictly increasing, one per frame. */
  readonly numbers: readonly number[];
  readonly rows: number;
  readonly columns: number;
  /** Bits of a sample's container: 8, 16, or 32 for floating point. */
  readonly bitDepth: number;
  /** Where samples are not as they were stored: the step between neighbouring values at a sample of this value, in the
   *  unit of the samples. Default: 1 for bit depths up to 16. */
  readonly roundingStep?: (value: number) => number;
  read(
    index: number,
    region?: FrameRegion,
    options?: { signal?: AbortSignal },
  ): Promise<NdArray<FrameSamples>>;
  frames(
    range?: { start?: number; end?: number },
    region?: FrameRegion,
    options?: { signal?: AbortSignal },
  ): AsyncIterable<{ index: number; number: number; frame: NdArray<FrameSamples> }>;
}

export type FrameSamples = Uint8Array | Uint16Array | Float32Array;

/** A rectangle of whole pixels, origin top left. */
export interface FrameRegion {
  row: number;
  column: number;
  rows: number;
  columns: number;
}

/** A point in the picture, px: x is the column, y the row, whole numbers are pixel centres. */
export type Point = readonly [x: number, y: number];

export interface FindOptions {
  /** What lasts at least so many frames and leaves nothing behind is caught; what is shorter may be missed. >= 1.
   *  Default 32. */
  readonly shortestFrames?: number;
  /** Look for what passes even where something that stays was found and looking costs more than 2048 frames.
   *  Default: false. */
  readonly thorough?: boolean;
  /** Only the part of the picture about this line is looked at. Default: the whole picture. */
  readonly path?: readonly [Point, Point];
  /** Width of the band about the path, px, >= 1. Default 15. */
  readonly width?: number;
  /** Only this part of the picture is looked at; not together with `path`. Default: the whole picture. */
  readonly region?: FrameRegion;
  /** First frame number looked at, inclusive. Default: the first of the take. */
  readonly firstFrame?: number;
  /** Last frame number looked at, inclusive. Default: the last of the take. */
  readonly lastFrame?: number;
  readonly signal?: AbortSignal;
  /** Called at most ten times a second, and at the end of each stage. */
  readonly onProgress?: (progress: FindProgress) => void;
}

export interface FindProgress {
  /** `sampling`: frames far apart; `passing`: frames closer than half the shortest event; `refining`: about an event. */
  readonly stage: "sampling" | "passing" | "refining";
  readonly done: number;
  readonly total: number;
}

/** A stretch of the take in which the picture changes. */
export interface FoundEvent {
  /** Number of the first frame that differs from those before the event. */
  readonly firstFrame: number;
  /** Number of the last frame of the motion. `passes`: the last that differs from those after it; `stays`: the first in
   *  which the change is complete, alike all frames after it. */
  readonly lastFrame: number;
  /** `stays`: the picture after it is not what it was before; `passes`: it is again. */
  readonly kind: "stays" | "passes";
  /** Root of the sum of squares, over the cells of the picture, of the greatest change in noise levels of one frame; cells
   *  that change by less than three noise levels do not count. */
  readonly strength: number;
  readonly certainty: Certainty;
}

/** At what stage of the search the ends of an event are certain. `bracketed`: it lies between two frames that were read; `bisected`:
 *  its ends were found by halving, where the change is half way, or amid what moves all the time; `visible`: frame by frame, the first
 *  and the last that show it, but one of them so weakly, or so close to a change of the light or an end of the take, that it may be some frames off; `refined`: frame by frame, both clearly. */
export type Certainty = "bracketed" | "bisected" | "visible" | "refined";

/** The light changes everywhere at once and stays so: a lamp that is switched on or off. */
export interface LightChange {
  /** Number of the first frame that differs. */
  readonly firstFrame: number;
  /** Number of the first frame in which the change is complete. */
  readonly lastFrame: number;
  /** Mean brightness of the picture behind over that before. */
  readonly factor: number;
}

export interface FindResult {
  /** Frames in the part of the take that was looked at. */
  readonly frames: number;
  /** Distinct frames read. */
  readonly framesRead: number;
  readonly shortestFrames: number;
  /** Whether what passes was looked for; if not, what left nothing behind may have been missed whatever its length. */
  readonly passingSought: boolean;
  /** The weakest event that would have been seen; null where there are too few frames to tell. */
  readonly weakestSeen: WeakestSeen | null;
  /** Strongest first, at most 16. */
  readonly events: readonly FoundEvent[];
  /** Changes of the light, which are no events, in order of time, at most 8. */
  readonly lightChanges: readonly LightChange[];
  /** Places at the upper and lower edge of the picture in which something changes all through the take, such as a counter that is written into
   *  the frames: they were left out. */
  readonly written: readonly FrameRegion[];
  /** How much the picture differs from that of the sample before, like `FoundEvent.strength`, in order of frame; at most
   *  2048 entries, of several samples the strongest. */
  readonly activity: readonly { readonly frame: number; readonly strength: number }[];
}

/** A change of the mean brightness of an area of so many pixels, wherever it lies in the picture. */
export interface WeakestSeen {
  /** As `FoundEvent.strength`. */
  readonly strength: number;
  /** Unit of the samples. */
  readonly brightness: number;
  readonly rows: number;
  readonly columns: number;
}
