import { availableParallelism } from "node:os";
import type { FrameKind } from "../samples/frame-header.js";
import type { Region } from "../types.js";

const MOST_FRAMES = 8;
const MOST_BYTES = 256 * 2 ** 20;

/** How many frames to decode at a time: four for each processor, at most eight, and no more than 256 MB of
 *  them; always at least one.
 *  @param frameBytes  what one frame takes while it is decoded, > 0 */
export function readAheadDepth(frameBytes: number, processors: number = availableParallelism()): number {
  return Math.max(1, Math.min(MOST_FRAMES, 4 * processors, Math.floor(MOST_BYTES / frameBytes)));
}

/** What decoding a region takes in bytes: its samples, and the luminance or light made of them where there is one. */
export function decodingBytes(
  { bitDepth, colour }: FrameKind,
  { rows, columns }: Pick<Region, "rows" | "columns">,
  toLight = false,
): number {
  const sampleBytes = bitDepth / 8;
  return rows * columns * ((colour ? 3 : 1) * sampleBytes + (colour || toLight ? 4 : 0));
}
