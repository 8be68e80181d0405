import { readFile } from "node:fs/promises";
import { extname } from "node:path";
import type { TakeFrames } from "../types.js";

/** Files that hold one picture each; a TIFF may hold a take. */
const STILL = /\.(png|jpe?g|webp)$/i;

export function isStill(file: string): boolean {
  return STILL.test(file);
}

/** A still as a take of one frame, number 0.
 *  @throws FrameLoadError */
export async function stillFrames(file: string): Promise<TakeFrames> {
  const { readStill } = await import("@frontpace/frame-loader");
  const { name, frame, bitDepth } = await readStill(file);
  const [rows, columns] = frame.shape;
  const whole = { row: 0, column: 0, rows, columns };
  return {
    name,
    numbers: [0],
    rows,
    columns,
    bitDepth,
    async *frames({ start = 0, end = 1 } = {}, { row, column, rows: height, columns: width } = whole) {
      if (start > 0 || end < 1) return;
      yield { index: 0, number: 0, frame: frame.hi(row + height, column + width).lo(row, column) };
    },
    async *stills() {
      yield { name: `still${extname(file)}`, bytes: await readFile(file) };
    },
  };
}
