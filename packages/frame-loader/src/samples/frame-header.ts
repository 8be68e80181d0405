import type { FileStamp } from "./file-stamp.js";
import type { SampleRange } from "./sample-range.js";

/** Size and kind of the samples of a still. */
export interface FrameKind {
  readonly rows: number;
  readonly columns: number;
  readonly bitDepth: 8 | 16 | 32;
  readonly colour: boolean;
  /** Samples that mean black and white, where the file states them. Default: the whole range of `bitDepth`. */
  readonly range?: SampleRange;
}

/** Where the samples of an uncompressed still lie, row after row without gaps. */
export interface PlainPlace {
  /** Byte of the first sample. */
  readonly dataAt: number;
  readonly bigEndian: boolean;
}

/** What is known of a still before it is decoded. */
export interface FrameHeader extends FrameKind {
  /** Pictures in the file; only the first is read. */
  readonly pages: number;
  readonly stamp: FileStamp;
  /** Of an uncompressed still, which is read where it lies; absent: it has to be decoded. */
  readonly plain?: PlainPlace;
  /** Whether its rows can be had without a decoder of whole pictures: `readGreyPng`. Default: false. */
  readonly isGreyPng?: boolean;
}
