import type { FrameKind } from "./read-header.js";
import { lightPerSample, linearLight, type Transfer } from "./transfer.js";

/** Light for every whole sample, in units of the sample range: black stays 0 and white the largest sample.
 *  @param bitDepth  of the stored samples; all of their range is black to white
 *  @returns length 2^bitDepth */
export function lightTable(transfer: Transfer, bitDepth: 8 | 16): Float64Array {
  const white = 2 ** bitDepth - 1;
  return Float64Array.from(
    { length: white + 1 },
    (_, sample) => white * linearLight(transfer, sample / white),
  );
}

/** What undoing a transfer function takes: light by stored sample, and the step between neighbouring values; nothing
 *  where samples stay as they are stored. */
export function lightOf(
  transfer: Transfer,
  { bitDepth }: FrameKind,
): { readonly table: Float64Array | null; readonly roundingStep?: (value: number) => number } {
  if (transfer === "linear" || bitDepth === 32) return { table: null };
  const table = lightTable(transfer, bitDepth);
  return { table, roundingStep: (value) => lightPerSample(transfer, value / (table.length - 1)) };
}
