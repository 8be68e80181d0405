import ndarray, { type NdArray } from "ndarray";
import type { FrameRegion, FrameSamples } from "./types.js";

/** A frame in which rectangles at its upper or lower edge show what stands beside them, mirrored: what is written there tells nothing, and the
 *  light, the noise and what happens are the same.
 *  @param written  each no higher than what is left above or below it; where one shows another, that one stands first
 *  @returns a copy, or the frame itself where there is none */
export function withoutWritten(
  frame: NdArray<FrameSamples>,
  written: readonly FrameRegion[],
): NdArray<FrameSamples> {
  if (written.length === 0) return frame;
  const [rows, columns] = frame.shape;
  const samples = copyOf(frame);
  for (const box of written) {
    const end = box.row + box.rows;
    for (let row = box.row; row < end; row++) {
      const from = box.row > rows - end ? 2 * box.row - 1 - row : 2 * end - 1 - row;
      const start = from * columns + box.column;
      samples.copyWithin(row * columns + box.column, start, start + box.columns);
    }
  }
  return ndarray(samples, [rows, columns]);
}

/** Samples row by row. */
function copyOf({ data, offset, shape, stride }: NdArray<FrameSamples>): FrameSamples {
  const [rows, columns] = shape;
  const [byRow, byColumn] = stride;
  const samples = new (data.constructor as { new (size: number): FrameSamples })(rows * columns);
  for (let row = 0, at = 0; row < rows; row++)
    for (let column = 0, from = offset + row * byRow; column < columns; column++, at++, from += byColumn)
      samples[at] = data[from];
  return samples;
}
