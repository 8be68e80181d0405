import type { FrameKind } from "../samples/frame-header.js";
import type { Samples } from "../samples/frame-of.js";
import type { FrameWarning, Region } from "../types.js";

/** One file that holds all frames of a take. */
export interface Container {
  readonly kind: FrameKind;
  /** Whole frames that are there. */
  readonly count: number;
  readonly warnings: readonly FrameWarning[];
  /** Whether samples have to be decoded: stored otherwise than they are given. */
  readonly isDecoded: boolean;
  /** Samples of a part of a frame as they are stored, row-major, of colour interleaved; only what is needed is read
   *  where the file allows.
   *  @param index  0 <= index < count
   *  @param region  inside the picture
   *  @param signal  calls off what takes long; others may go on unobserved
   *  @throws FrameLoadError `corrupt-frame`, `unreadable-frame` or `changed-frame` */
  readSamples(index: number, region: Region, signal?: AbortSignal): Promise<Samples>;
  /** What that takes in bytes, beyond the samples: a whole compressed frame, say. */
  readingBytes(region: Region): number;
  /** @throws FrameLoadError `changed-frame` where the file was written to since it was opened */
  checkUnchanged(): Promise<void>;
  close(): Promise<void>;
}
