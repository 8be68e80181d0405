/** Shares of the samples that come out black and white. */
const LOW_QUANTILE = 0.005;
const HIGH_QUANTILE = 0.995;

/** Samples looked at along each axis: a contrast by a hundred thousand values is as good as one by a million. */
const MAXIMUM_SAMPLES = 360;

/** The 0.5 % and 99.5 % quantiles (nearest rank) of the finite samples, so that a few hot or dead samples do not set the contrast.
 *  @param data  row-major (rows, columns)
 *  @returns undefined where no sample is finite
 */
export function brightnessRange(
  data: Float32Array | Float64Array,
  [rows, columns]: readonly [number, number],
): { low: number; high: number } | undefined {
  const rowStep = Math.ceil(rows / MAXIMUM_SAMPLES);
  const columnStep = Math.ceil(columns / MAXIMUM_SAMPLES);
  const sampled = new Float64Array(Math.ceil(rows / rowStep) * Math.ceil(columns / columnStep));
  let count = 0;
  for (let row = 0; row < rows; row += rowStep) {
    for (let column = 0; column < columns; column += columnStep) {
      const value = data[row * columns + column];
      if (Number.isFinite(value)) sampled[count++] = value;
    }
  }
  if (count === 0) return undefined;
  const sorted = sampled.subarray(0, count).sort();
  const at = (quantile: number) => sorted[Math.round(quantile * (count - 1))];
  return { low: at(LOW_QUANTILE), high: at(HIGH_QUANTILE) };
}

/** The range that holds those of all pictures, so that they are drawn in the same greys; of none 0 to 1.
 *  @returns high > low */
export function commonRange(
  stills: readonly {
    readonly data: Float32Array | Float64Array;
    readonly shape: readonly [number, number];
  }[],
): { readonly low: number; readonly high: number } {
  const ranges = stills.flatMap(({ data, shape }) => brightnessRange(data, shape) ?? []);
  if (ranges.length === 0) return { low: 0, high: 1 };
  const low = Math.min(...ranges.map((range) => range.low));
  const high = Math.max(...ranges.map((range) => range.high));
  return { low, high: high > low ? high : low + 1 };
}
