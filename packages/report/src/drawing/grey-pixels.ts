/** From black to white. */
export const FULL = [0, 255] as const;

/** A still as row-major 8-bit RGB, every pixel a square.
 *  @param data  brightness, row-major (rows, columns)
 *  @param range  what becomes the darkest and the brightest grey, high > low; beyond it greys are those of its ends
 *  @param scale  px of the side of a square, a whole number >= 1 */
export function greyPixels(
  {
    data,
    shape: [rows, columns],
  }: { readonly data: Float64Array | Float32Array; readonly shape: readonly [number, number] },
  { low, high }: { readonly low: number; readonly high: number },
  scale: number,
  [darkest, brightest]: readonly [number, number] = FULL,
): Uint8Array {
  const rgb = new Uint8Array(3 * rows * columns * scale * scale);
  for (let y = 0, i = 0; y < rows * scale; y++)
    for (let x = 0; x < columns * scale; x++, i += 3) {
      const value = data[Math.floor(y / scale) * columns + Math.floor(x / scale)];
      const share = Math.min(1, Math.max(0, (value - low) / (high - low)));
      rgb.fill(Math.round(darkest + (brightest - darkest) * share), i, i + 3);
    }
  return rgb;
}
