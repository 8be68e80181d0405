/** Largest values of samples of so many bits, whatever the size of their container. */
export const CEILINGS: readonly number[] = [255, 1023, 4095, 16383, 65535];

/** The largest value that samples can have: of those of usual cameras the least that none exceeds.
 *  @param largest  value met
 *  @param bitDepth  of the container
 *  @returns null of floating point, which has none */
export function whiteLevel(largest: number, bitDepth: number): number | null {
  if (bitDepth > 16) return null;
  if (bitDepth <= 8) return 255;
  return CEILINGS.find((ceiling) => ceiling >= largest && ceiling > 255) ?? null;
}
