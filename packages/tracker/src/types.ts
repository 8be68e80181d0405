import type { NdArray } from "ndarray";

/** What the tracker needs of a frame sequence; any sequence with these members will do. */
export interface FrameSource {
  /** Frame numbers, strictly increasing, one per frame; gaps are gaps in time. */
  readonly numbers: readonly number[];
  /** Time of a frame counted in frames, increasing with its number. Default: its number. */
  readonly timeFrames?: (number: number) => number;
  readonly rows: number;
  readonly columns: number;
  /** Bits of a sample's container: 8, 16, or 32 for floating point. */
  readonly bitDepth: number;
  /** Where samples are not as they were stored: the step between neighbouring values at a sample of this value, in the
   *  unit of the samples. Default: 1 for bit depths up to 16. */
  readonly roundingStep?: (value: number) => number;
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

export type Polarity = "bright" | "dark";

export interface TrackOptions {
  /** Line along which the front is followed, from its first point to its second. Default: the take itself
   *  says whether the front runs along rows or along columns. */
  readonly path?: readonly [Point, Point];
  /** Whether the path was laid through what runs, so that it is no sign that a front was expected there. Default: false. */
  readonly isPathFound?: boolean;
  /** Width of the band averaged across the path, px, >= 1. Default: 15 about a given path; without a path the
   *  whole picture. */
  readonly width?: number;
  /** `bright`: the front leaves the picture brighter than before; `dark`: darker. Default: found. */
  readonly polarity?: Polarity;
  /** Which of several fronts on the path is wanted, counted from 1 in the order in which they are first seen. Default:
   *  the only one; several are then no speed. */
  readonly front?: number;
  /** First frame number used, inclusive. Default: the first of the take. */
  readonly firstFrame?: number;
  /** Last frame number used, inclusive. Default: the last of the take. */
  readonly lastFrame?: number;
  /** Part of the frame interval during which light is collected, 0 < f <= 1. Default: unknown (fitted). */
  readonly exposureFraction?: number;
  /** Where the plane of the front is seen obliquely or through a lens that bends the picture: for a path, where a position
   *  along it would be seen square on, px; increasing, and about as long as the path. The line then goes through positions
   *  so moved. Default: positions as they are. */
  readonly straighten?: (path: readonly [Point, Point]) => (positionPixels: number) => number;
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
}

export interface Progress {
  readonly stage: string;
  readonly done: number;
  readonly total: number;
}

export interface TrackWarning {
  readonly code: string;
  readonly message: string;
}

/** `brightness`: averaged across the path. `departures`: of every pixel from its own level before, averaged as squares. */
export type StreakChannel = "brightness" | "departures";

/** Position against frame: the small picture on which everything after the reading of frames works. */
export interface Streak {
  /** Brightness averaged across the path, row-major, shape [frames, positions]; copies of frames are left out. */
  readonly data: Float64Array;
  /** Second channel, like `data`: logarithm of the mean square departure of the pixels across the path from their own
   *  levels before, in noise units, each clipped; 0 where there is noise alone. Absent where brightness told enough. */
  readonly departures?: Float64Array;
  readonly shape: readonly [frames: number, positions: number];
  /** Times of the frames, counted in frames: their numbers, less the extra copies stored before them. */
  readonly frameNumbers: readonly number[];
  /** End points of the path as followed, px. */
  readonly path: readonly [Point, Point];
  /** Rows (across the path) averaged into each sample. */
  readonly width: number;
  /** What these are worth in rows of independent noise, fewer where that of neighbouring pixels is alike (mosaic, compression,
   *  resampling); null where rows, frames or noise are too few to tell. */
  readonly effectiveRows: number | null;
}

/** The front's position in one frame. */
export interface FrontPosition {
  /** Number of the frame as stored. */
  readonly frame: number;
  /** Time of the frame, counted in frames, where it is not its number: extra copies were stored before it. */
  readonly timeFrames?: number;
  /** Distance from the path's first point, px, at mid-exposure. */
  readonly positionPixels: number;
  readonly standardUncertaintyPixels: number;
  /** From the line; where positions were straightened, of the straightened one. */
  readonly residualPixels: number;
  readonly used: boolean;
}

/** What an effect beyond the fit adds to the uncertainty of the slope, or why it was not evaluated. */
export type SlopeContribution =
  | { readonly standardUncertaintyPixelsPerFrame: number; readonly degreesOfFreedom: number }
  | { readonly notEvaluated: string };

/** Position of the front against frame number, and the straight line through it. */
export interface FrontTrack {
  /** What of the streak shows the front. With departures the track is that of the envelope of a cloud of cracks. */
  readonly channel: StreakChannel;
  readonly positions: readonly FrontPosition[];
  /** Through the positions, or where `straighten` was given through the straightened ones. */
  readonly line: {
    /** px, at time 0, counted in frames (`FrontPosition.timeFrames`, else the frame number) */
    readonly interceptPixels: number;
    /** px a frame, signed along the path */
    readonly slopePixelsPerFrame: number;
    /** Of the readings and of the wander about the line; the contributions come on top of it. */
    readonly standardUncertaintyPixelsPerFrame: number;
    readonly degreesOfFreedom: number;
    /** Share of that variance that the wander explains, 0..1; null where the frames are too few to tell it apart. */
    readonly wanderShare: number | null;
    readonly contributions: {
      /** Of the level at which the front is read, where its width grows on the way. */
      readonly frontDefinition: SlopeContribution;
      /** Of frames whose time is in doubt. */
      readonly timeBase: SlopeContribution;
      /** Of the shift of pane or camera from frame to frame. */
      readonly motion: SlopeContribution;
      /** Of other models that describe the positions nearly as well. */
      readonly modelChoice: SlopeContribution;
    };
  };
  /** What of it is followed: a step's middle, the middle of a line that passes (pulse), or that between a bright line and a dark one (pair). */
  readonly shape: "step" | "pulse" | "pair";
  /** Of the mean brightness; with departures that may change little, and in either sense. Of a pair: that of the line which leads. */
  readonly polarity: Polarity;
  /** Unit vector in the picture along which the front ran, [dx, dy]. */
  readonly direction: readonly [number, number];
  /** Angle between the front's normal and the path, degrees, or null where the width shows none, and with departures. Positive where
   *  the front lies further along the path on the path's right-hand side, as seen in a picture whose rows run
   *  down. */
  readonly tilt: { readonly degrees: number; readonly standardUncertaintyDegrees: number } | null;
  /** Standard deviation of the edge at rest, px, and step over the noise of a single pixel; null with departures, or where
   *  no position tells its change. */
  readonly look: { readonly edgeBlurPixels: number; readonly stepToNoise: number } | null;
  readonly firstFrame: number;
  readonly lastFrame: number;
}

/** A straight run of changes along the path. */
export interface FrontLine {
  /** px a frame, signed along the path */
  readonly slopePixelsPerFrame: number;
  readonly standardUncertaintyPixelsPerFrame: number;
  readonly firstFrame: number;
  readonly lastFrame: number;
  /** Where it is in those frames, px. */
  readonly fromPixels: number;
  readonly toPixels: number;
}

/** Three outcomes, never a fourth. */
export type TrackOutcome =
  | {
      readonly status: "tracked";
      readonly track: FrontTrack;
      /** All fronts on the path, the followed one among them, in the order in which they are first seen. */
      readonly fronts: readonly FrontLine[];
      /** Other lines on which the same front may be read: of its first, or of its strongest changes. */
      readonly alternatives: readonly FrontLine[];
      readonly streak: Streak;
      readonly warnings: readonly TrackWarning[];
    }
  | {
      /** The front ran over the path in too few frames to be followed: only a lower bound. */
      readonly status: "crossed";
      /** Number of the last frame that shows none of the front. */
      readonly lastFrameBefore: number;
      /** Number of the first frame that shows the path crossed. */
      readonly firstFrameAfter: number;
      /** Length of path seen crossed between those two frames, px. */
      readonly lengthPixels: number;
      readonly polarity: Polarity;
      readonly streak: Streak;
      readonly warnings: readonly TrackWarning[];
    }
  | {
      readonly status: "not-found";
      /** Stable code: `no-change`, `no-propagation-seen`, `too-few-frames`, `not-resolved`, `several-fronts`,
       *  `front-not-there`, `interpolated-export`, `only-a-spot`. */
      readonly reason: string;
      /** What was looked for, and what was seen instead. */
      readonly message: string;
      /** Where there are several, all fronts on the path, in the order in which they are first seen. */
      readonly fronts?: readonly FrontLine[];
      readonly streak: Streak;
      readonly warnings: readonly TrackWarning[];
    };

/** What frames in which nothing runs show of how they were filmed. */
export interface Footage {
  /** End points of the path as read, px. */
  readonly path: readonly [Point, Point];
  /** Rows averaged across it. */
  readonly width: number;
  /** As of a streak. */
  readonly effectiveRows: number | null;
  /** Numbers of the frames read, as stored. */
  readonly frameNumbers: readonly number[];
  /** `copies`: the numbers of frames that are copies of the one before; `conversion`: copies or blends at regular intervals;
   *  `nothing`: the noise is too low, or the frames are too few, to tell. */
  readonly timing:
    | { readonly seen: "steady" | "nothing" }
    | { readonly seen: "copies"; readonly frames: readonly number[] }
    | { readonly seen: "conversion"; readonly message: string };
  /** Largest sample read, and the share of all samples that have it. */
  readonly brightest: { readonly value: number; readonly share: number };
  /** The largest value that samples of so many bits can have; null: floating point. */
  readonly white: number | null;
  /** Share of the samples that stand at white or at 0, where neither noise nor light shows; 0 of floating point. */
  readonly clippedShare: number;
  /** Mean of the samples in the band. */
  readonly level: number;
  /** Standard deviations: of one pixel; of a sample of the band, averaged across it. null: too few frames. */
  readonly noise: { readonly pixel: number; readonly sample: number } | null;
  /** Brightness of each frame over the mean, shape (frames,), null where it varies no more than noise explains; and the
   *  standard uncertainty of one; `isShared`: both halves of the path vary alike, as in changing light. null where the
   *  picture is dark. */
  readonly light: {
    readonly gain: Float64Array | null;
    readonly standardUncertainty: number;
    readonly isShared: boolean;
  } | null;
  /** How far the picture lies from its median place; null where no texture tells (across: or it does not move so). */
  readonly shift: {
    readonly along: ShiftOfFootage | null;
    /** Along the path, of the one edge that it crosses where it shows no texture: of a move along the edge it tells nothing. */
    readonly alongByEdge: ShiftOfFootage | null;
    readonly across: ShiftOfFootage | null;
  };
}

export interface ShiftOfFootage {
  /** px, shape (frames,), NaN where the frame does not tell. */
  readonly shiftPixels: Float64Array;
  /** Of one frame, root mean square. */
  readonly standardUncertaintyPixels: number;
  /** More than the noise explains. */
  readonly moves: boolean;
}
