import type { FrameSource } from "../types.js";

/** Noise that the rounding of stored samples alone gives to a streak: a step of the samples over the square root of
 *  twelve, less by the root of the rows averaged. Where the source says that its steps differ with the brightness, their
 *  root mean square over the streak; of floating point a believable least.
 *  @param data  the streak, in the unit of the samples
 *  @param width  samples averaged into each of its own
 *  @returns standard deviation, same unit
 *  @see W. R. Bennett, Bell System Technical Journal 27 (1948), 446-472, for the variance of 1/12 of a step (from
 *    memory) */
export function roundingNoise(
  { bitDepth, roundingStep }: Pick<FrameSource, "bitDepth" | "roundingStep">,
  width: number,
  data: Float64Array,
): number {
  if (roundingStep) {
    const squares = data.reduce((sum, value) => sum + roundingStep(value) ** 2, 0);
    return Math.sqrt(squares / data.length / 12 / width);
  }
  if (bitDepth <= 16) return Math.sqrt(1 / 12 / width);
  return 1e-7 * data.reduce((largest, value) => Math.max(largest, Math.abs(value)), 1e-30);
}
