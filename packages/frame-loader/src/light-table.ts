import { linearLight, type Transfer } from "./transfer.js";

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
