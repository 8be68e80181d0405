import type { FrameWarning } from "../types.js";

/** Stored samples that mean black and white. */
export interface SampleRange {
  readonly black: number;
  readonly white: number;
}

/** @param bits  significant bits of a sample
 *  @see ITU-R BT.709-6 (2015), item 4.6: limited range holds black at 16 and white at 235 of 8 bits */
export function sampleRange(bits: number, isLimited: boolean): SampleRange {
  const step = 2 ** (bits - 8);
  return isLimited ? { black: 16 * step, white: 235 * step } : { black: 0, white: 2 ** bits - 1 };
}

/** @param says  what the file says of its range */
export function limitedRange(name: string, says: string, { black, white }: SampleRange): FrameWarning {
  return {
    code: "limited-range",
    message: `${name} ${says}: black is ${black} and white ${white}. Where --transfer is declared, light counts from black to white; else samples are used as they are stored: the position of a front does not depend on it then, but light that flickers is not in proportion to them`,
  };
}
