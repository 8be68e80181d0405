import { createHash } from "node:crypto";
import { extname } from "node:path";
import type { TakeFrames } from "../types.js";

/** A frame to be kept as it is, for the day on which somebody asks how it looked before. */
export interface ReferenceStill {
  readonly file: string;
  readonly frame: number;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}

/** One frame of a take as a file.
 *  @returns null of frames that were not opened from a file */
export async function referenceStill(frames: TakeFrames, index: number): Promise<ReferenceStill | null> {
  if (!frames.stills) return null;
  for await (const { name, bytes } of frames.stills({ start: index, end: index + 1 }))
    return {
      file: `reference${extname(name).toLowerCase()}`,
      frame: frames.numbers[index],
      bytes,
      sha256: createHash("sha256").update(bytes).digest("hex"),
    };
  return null;
}
