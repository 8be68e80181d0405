import { basename, dirname } from "node:path";
import type { Frame } from "../types.js";
import { decodeFrame } from "./decode-frame.js";
import { readHeader } from "./read-header.js";

/** One picture that is no part of a take. */
export interface Still {
  /** Base name of the file. */
  readonly name: string;
  /** shape [rows, columns] */
  readonly frame: Frame;
  readonly bitDepth: 8 | 16 | 32;
}

/** Reads one still (PNG, JPEG, TIFF, WebP), samples as they are stored, colour as luminance; of several pictures in a
 *  file the first.
 *  @throws FrameLoadError `unreadable-frame`, `corrupt-frame`, `unsupported-frame` or `changed-frame` */
export async function readStill(path: string): Promise<Still> {
  const [folder, file] = [dirname(path), basename(path)];
  const { stamp, ...kind } = await readHeader(folder, file);
  const { rows, columns, bitDepth } = kind;
  const frame = await decodeFrame(folder, { file, stamp }, kind, { row: 0, column: 0, rows, columns });
  return { name: file, frame, bitDepth };
}
