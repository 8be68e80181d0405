import type { FrameKind } from "./frame-header.js";
import { type SampleRange, sampleRange } from "./sample-range.js";
import { lightPerSample, linearLight, type Transfer } from "./transfer.js";

/** Light for every whole sample, in units of the sample: black is 0 and white as far above it as the samples are apart.
 *  @param bitDepth  of the stored samples
 *  @param range  which of them are black and white. Default: all of their range
 *  @returns length 2^bitDepth */
function lightTable(
  transfer: Transfer,
  bitDepth: 8 | 16,
  { black, white }: SampleRange = sampleRange(bitDepth, false),
): Float64Array {
  const span = white - black;
  return Float64Array.from(
    { length: 2 ** bitDepth },
    (_, sample) => span * linearLight(transfer, (sample - black) / span),
  );
}

/** What undoing a transfer function takes: light by stored sample, and the step between neighbouring values; nothing
 *  where samples stay as they are stored. */
export function lightOf(
  transfer: Transfer,
  { bitDepth, range }: FrameKind,
): { readonly table: Float64Array | null; readonly roundingStep?: (value: number) => number } {
  if (transfer === "linear" || bitDepth === 32) return { table: null };
  const { black, white } = range ?? sampleRange(bitDepth, false);
  const table = lightTable(transfer, bitDepth, { black, white });
  return { table, roundingStep: (value) => lightPerSample(transfer, value / (white - black)) };
}
