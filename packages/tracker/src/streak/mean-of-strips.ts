/** The strips' mean, each position of a strip weighing as much as it has samples; 0 where no strip has any.
 *  @param strips  each row-major, shape [frames, positions]
 *  @param counts  samples of each strip at each position, each of shape (positions,) */
export function meanOfStrips(strips: readonly Float64Array[], counts: readonly Float64Array[]): Float64Array {
  const positions = counts[0].length;
  const total = new Float64Array(positions);
  for (const count of counts) for (let p = 0; p < positions; p++) total[p] += count[p];
  const mean = new Float64Array(strips[0].length);
  strips.forEach((strip, k) => {
    const weight = counts[k].map((count, p) => (total[p] > 0 ? count / total[p] : 0));
    for (let at = 0; at < mean.length; )
      for (let p = 0; p < positions; p++, at++) mean[at] += strip[at] * weight[p];
  });
  return mean;
}
