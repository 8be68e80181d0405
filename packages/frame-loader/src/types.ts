import type { NdArray } from "ndarray";

/** One frame or a part of it, shape [rows, columns]. Grey stills give the stored samples as Uint8Array,
 *  Uint16Array or (32-bit TIFF) Float32Array; colour stills give their luminance as Float32Array. Where a transfer
 *  function is undone, all give Float32Array in units of the stored samples. */
export type Frame = NdArray<Uint8Array | Uint16Array | Float32Array>;

/** A rectangle of whole pixels; the origin is the top left pixel of the picture. */
export interface Region {
  /** First row, >= 0. */
  readonly row: number;
  /** First column, >= 0. */
  readonly column: number;
  /** Height in pixels, >= 1. */
  readonly rows: number;
  /** Width in pixels, >= 1. */
  readonly columns: number;
}

/** Frames by index (not by number). */
export interface FrameRange {
  /** First index. Default 0. */
  readonly start?: number;
  /** Index behind the last one. Default the number of frames. */
  readonly end?: number;
}

/** How long work is called off. */
export interface ReadOptions {
  /** When it aborts, the work rejects with `signal.reason`. Default: never. */
  readonly signal?: AbortSignal;
}

/** Something the user should know about how a folder was understood. */
export interface FrameWarning {
  readonly code:
    | "ignored-files"
    | "number-group"
    | "sign"
    | "missing-frames"
    | "common-step"
    | "sub-sampled"
    | "extra-pages"
    | "frames-skipped"
    | "truncated"
    | "limited-range"
    | "pixel-aspect"
    | "playback-rate"
    | "lossy-clip"
    | "variable-rate";
  readonly message: string;
}

/** How far opening has come where every still is decoded once (`skipBad`). */
export interface OpeningProgress {
  readonly stage: "checking";
  /** Stills. */
  readonly done: number;
  readonly total: number;
}

/** A frame on its way through `frames()`. */
export interface NumberedFrame {
  readonly index: number;
  /** `numbers[index]`. */
  readonly number: number;
  readonly frame: Frame;
}

/** A frame as a file of its own. */
export interface StillFile {
  /** `numbers[index]`. */
  readonly number: number;
  /** File name, never a path. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** An open sequence of stills of one size and kind, in order of frame number. */
export interface FrameSequence {
  /** Frame numbers, strictly increasing, one per frame. A missing still leaves a jump, and so does one left out as
   *  damaged. */
  readonly numbers: readonly number[];
  /** Height of every frame in pixels. */
  readonly rows: number;
  /** Width of every frame in pixels. */
  readonly columns: number;
  /** Depth of the container of one stored sample in bits; 32 is floating point. */
  readonly bitDepth: 8 | 16 | 32;
  /** Whether the stills hold three colour channels, read as luminance. */
  readonly colour: boolean;
  /** Present where a transfer function is undone: the step between neighbouring values at a sample of this value, 1
   *  where it is not undone, both in units of the stored samples. */
  readonly roundingStep?: (value: number) => number;
  /** Base name of the folder, never a path. */
  readonly name: string;
  readonly warnings: readonly FrameWarning[];

  /** The warnings where only the frames of a range are used: `missing-frames` and `frames-skipped` name those
   *  within it or right beside it.
   *  @throws RangeError for a range out of the sequence */
  warningsWithin(range?: FrameRange): readonly FrameWarning[];

  /** Decodes one frame, or the part of it that `region` names.
   *  @param index  0 <= index < numbers.length
   *  @returns shape [rows, columns], the stored samples unchanged (colour: BT.709 luminance), or with
   *    `transfer` the light they stand for
   *  @throws RangeError for an index or a region out of the picture
   *  @throws FrameLoadError `corrupt-frame`, `unreadable-frame`, `changed-frame` or `closed` */
  read(index: number, region?: Region, options?: ReadOptions): Promise<Frame>;

  /** The frames of a range in order, decoded ahead: at most eight frames and 256 MB at a time, one frame
   *  where a single one is larger. Leaving the loop stops the reading ahead. Once all are read, one file that holds
   *  them must be what it was at opening.
   *  @throws RangeError for a range or a region out of the sequence, at the call
   *  @throws FrameLoadError as `read` does */
  frames(range?: FrameRange, region?: Region, options?: ReadOptions): AsyncIterable<NumberedFrame>;

  /** SHA-256 over every frame of the range in order: its number as a signed 64-bit big-endian integer, then
   *  the bytes of its file. File names do not enter.
   *  @returns 64 lower-case hexadecimal digits */
  hash(range?: FrameRange, options?: ReadOptions): Promise<string>;

  /** Whether one file that holds the frames is what it was at opening; stills are looked at whenever they are read.
   *  @throws FrameLoadError `changed-frame` or `closed` */
  checkUnchanged(): Promise<void>;

  /** The frames of a range in order, as files: stills byte for byte, the frames of a file as PNG or (floating point) TIFF with their
   *  samples as they are stored. A folder of these files is opened with the same numbers, given the same `frameStep`.
   *  @throws RangeError for a range out of the sequence, at the call
   *  @throws FrameLoadError as `read` does, but a damaged still is copied as it is */
  stills(range?: FrameRange, options?: ReadOptions): AsyncIterable<StillFile>;

  /** Ends the sequence: whatever is asked of it afterwards is an error with the code `closed`. */
  close(): Promise<void>;
}
