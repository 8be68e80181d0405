import ndarray, { type NdArray } from "ndarray";
import type { FrameRegion, FrameSamples } from "./types.js";

/** A frame in which rectangles at its upper or lower edge show what stands beside them, mirrored, as often as it takes to fill them: what is
 *  written there tells nothing, and the light, the noise and what happens are the same.
 *  @param written  two that share columns do not touch, and none is as high as the frame
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
    const others = written.filter((other) => other !== box && shareColumns(other, box));
    const isUpper = box.row <= rows - end;
    const free = isUpper
      ? Math.min(rows, ...others.filter(({ row }) => row >= end).map(({ row }) => row)) - end
      : box.row - Math.max(0, ...others.map((other) => other.row + other.rows).filter((to) => to <= box.row));
    for (let away = 0; away < box.rows; away++) {
      const inTwo = away % (2 * free);
      const beyond = inTwo < free ? inTwo : 2 * free - 1 - inTwo;
      const [row, from] = isUpper ? [end - 1 - away, end + beyond] : [box.row + away, box.row - 1 - beyond];
      const start = from * columns + box.column;
      samples.copyWithin(row * columns + box.column, start, start + box.columns);
    }
  }
  return ndarray(samples, [rows, columns]);
}

function shareColumns(a: FrameRegion, b: FrameRegion): boolean {
  return a.column < b.column + b.columns && b.column < a.column + a.columns;
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
