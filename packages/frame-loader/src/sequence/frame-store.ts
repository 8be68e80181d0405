import type { FrameKind } from "../samples/frame-header.js";
import type { Frame, FrameRange, FrameWarning, Region, StillFile } from "../types.js";

/** Where the frames of a sequence are kept: a folder of stills, or one file that holds them all. Indices, ranges and
 *  regions that reach it lie inside the take. */
export interface FrameStore {
  /** Base name, never a path. */
  readonly name: string;
  readonly kind: FrameKind;
  /** Strictly increasing, one per frame. */
  readonly numbers: readonly number[];
  readonly warnings: readonly FrameWarning[];
  readonly roundingStep?: (value: number) => number;
  /** @throws FrameLoadError `corrupt-frame`, `unreadable-frame` or `changed-frame` */
  load(index: number, region: Region, signal?: AbortSignal): Promise<Frame>;
  /** Whether a frame has to be decoded, which takes longer than to keep it. */
  readonly isDecoded: boolean;
  /** @throws FrameLoadError `changed-frame` where the frame was written to since the take was opened; `unreadable-frame` */
  checkFrame(index: number): Promise<void>;
  /** What loading a region takes in bytes. */
  loadingBytes(region: Region): number;
  warningsWithin(range: Required<FrameRange>): readonly FrameWarning[];
  /** @throws FrameLoadError as `load` does; signal.reason */
  hash(range: Required<FrameRange>, signal: AbortSignal | undefined): Promise<string>;
  /** The frames of a range as files, in order.
   *  @throws FrameLoadError as `load` does; signal.reason */
  stills(range: Required<FrameRange>, signal: AbortSignal | undefined): AsyncIterable<StillFile>;
  /** @throws FrameLoadError `changed-frame` where one file that holds all frames was written to since it was opened; stills
   *    are looked at one by one as they are loaded */
  checkUnchanged(): Promise<void>;
  close(): Promise<void>;
}
