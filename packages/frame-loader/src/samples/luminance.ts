/** Luminance of interleaved red, green and blue samples. Without `light` they are weighted as they are stored: no
 *  transfer function is undone, so this is the luma of the stored values.
 *  @param samples  length 3 N, red, green, blue, red, …
 *  @param light  what each sample stands for, by its value: it takes the place of the samples before they are weighted
 *  @returns length N, Y = 0.2126 R + 0.7152 G + 0.0722 B, computed in float64
 *  @see ITU-R BT.709-6 (2015), item 3.2 */
export function luminance(
  samples: ArrayLike<number>,
  light: Float64Array | null = null,
): Float32Array<ArrayBuffer> {
  const result = new Float32Array(Math.floor(samples.length / 3));
  for (let i = 0, k = 0; i < result.length; i += 1, k += 3) {
    const [red, green, blue] = light
      ? [light[samples[k]], light[samples[k + 1]], light[samples[k + 2]]]
      : [samples[k], samples[k + 1], samples[k + 2]];
    result[i] = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  }
  return result;
}
