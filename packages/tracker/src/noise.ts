/** Noise of a streak's samples, from differences in time, or from differences in space of the change where there
 *  are fewer than four frames; the median of absolute values, so that the few samples that the front crosses do
 *  not count.
 *  @param data  row-major, shape [frames, positions]
 *  @param floor  smallest believable value (rounding to whole numbers)
 *  @returns standard deviation, same unit as the samples */
export function streakNoise(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  floor: number,
): number {
  const differences: number[] = [];
  const stride = Math.max(1, Math.floor((frames * positions) / 200_000));
  if (frames >= 4) {
    for (let at = positions; at < (frames - 1) * positions; at += stride)
      differences.push(Math.abs(data[at - positions] - 2 * data[at] + data[at + positions]) / Math.sqrt(6));
  } else if (frames >= 2) {
    const change = (at: number) => data[at + positions] - data[at];
    for (let i = 0; i + 1 < frames; i++)
      for (let p = 1; p < positions - 1; p++) {
        const at = i * positions + p;
        differences.push(Math.abs(change(at - 1) - 2 * change(at) + change(at + 1)) / Math.sqrt(12));
      }
  }
  if (differences.length === 0) return floor;
  return Math.max(floor, 1.4826 * median(differences));
}

export function median(values: number[]): number {
  const sorted = values.sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
