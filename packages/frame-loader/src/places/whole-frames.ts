import { corrupt } from "../samples/frame-faults.js";
import type { FrameKind } from "../samples/frame-header.js";
import type { FrameWarning } from "../types.js";
import type { PositionedFile } from "./positioned-file.js";

/** Pixels of a frame, at most: larger sizes are those of a damaged header. */
const MOST_PIXELS = 2 ** 28;

/** How many of the frames that a header promises are there as a whole, uncompressed and one behind the other.
 *  @param dataAt  byte at which the first begins
 *  @param promised  null where the header names no number: as many as there are
 *  @param gapBytes  between two of them
 *  @throws FrameLoadError `corrupt-frame` where the size is none, or not one whole frame is there */
export function wholeFrames(
  file: PositionedFile,
  { rows, columns, bitDepth, colour }: FrameKind,
  dataAt: number,
  promised: number | null,
  gapBytes = 0,
): { readonly count: number; readonly frameBytes: number; readonly warnings: readonly FrameWarning[] } {
  checkSize(file.name, rows, columns);
  const frameBytes = rows * columns * (bitDepth / 8) * (colour ? 3 : 1);
  const there = Math.floor((file.size - dataAt + gapBytes) / (frameBytes + gapBytes));
  const count = Math.min(there, promised ?? there);
  if (!(count >= 1))
    throw corrupt(
      file.name,
      `does not hold one whole frame of ${columns} x ${rows} pixels (${frameBytes} bytes)`,
      "check its size and kind, or export it again",
    );
  return {
    count,
    frameBytes,
    warnings: truncated(file, count, promised, dataAt + count * (frameBytes + gapBytes) - gapBytes, gapBytes),
  };
}

/** @throws FrameLoadError `corrupt-frame` */
export function checkSize(name: string, rows: number, columns: number): void {
  const isSize = (size: number) => Number.isSafeInteger(size) && size >= 1;
  if (!isSize(rows) || !isSize(columns) || rows * columns > MOST_PIXELS)
    throw corrupt(name, `states an impossible picture of ${columns} x ${rows} pixels`, "export it again");
}

/** Says that a file ends before the frames it promises, or within one.
 *  @param end  byte behind the last whole frame
 *  @param gapBytes  that may follow it */
export function truncated(
  { name, size }: PositionedFile,
  count: number,
  promised: number | null,
  end: number,
  gapBytes = 0,
): FrameWarning[] {
  const isShort = promised !== null && count < promised;
  const rest = size - end;
  if (!isShort && (promised !== null || rest <= 0 || rest === gapBytes)) return [];
  const wanted = promised === null ? "" : ` of ${promised}`;
  return [
    {
      code: "truncated",
      message: `${name} is cut short: ${count}${wanted} frames are there as a whole and are used, ${rest} bytes behind them are no whole frame. Copy or export it again if the event is missing`,
    },
  ];
}
