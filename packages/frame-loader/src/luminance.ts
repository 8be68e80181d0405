/** Luminance of interleaved red, green and blue samples, weighted as they are stored: no transfer function is
 *  undone, so this is the luma of the stored values.
 *  @param samples  length 3 N, red, green, blue, red, …
 *  @returns length N, Y = 0.2126 R + 0.7152 G + 0.0722 B, computed in float64
 *  @see ITU-R BT.709-6 (2015), item 3.2 */
export function luminance(samples: ArrayLike<number>): Float32Array<ArrayBuffer> {
  const result = new Float32Array(Math.floor(samples.length / 3));
  for (let i = 0, k = 0; i < result.length; i += 1, k += 3) {
    result[i] = 0.2126 * samples[k] + 0.7152 * samples[k + 1] + 0.0722 * samples[k + 2];
  }
  return result;
}
