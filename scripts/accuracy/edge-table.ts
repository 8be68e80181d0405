/** A blurred, smeared, pixel-integrated edge tabulated by brute force on a fine grid: a unit step is convolved
 *  with a Gaussian and with the boxes of exposure and pixel as running sums. Nothing of it is shared with the
 *  program under trial. */
export interface EdgeTable {
  /** Changed share at a pixel whose centre lies `behind` px behind the front: 0 ahead, 1 behind. */
  value(behind: number): number;
  /** Its derivative, per px. */
  slope(behind: number): number;
}

const CELLS_PER_PIXEL = 40;

export function edgeTable(blurPixels: number, smearPixels: number): EdgeTable {
  const reach = Math.ceil(6 * blurPixels + smearPixels / 2 + 2);
  const size = 2 * reach * CELLS_PER_PIXEL + 1;
  // Density of the edge: a Gaussian, then one running mean for each box.
  let density: Float64Array = Float64Array.from({ length: size }, (_, k) => {
    const x = (k - (size - 1) / 2) / CELLS_PER_PIXEL;
    return Math.exp(-0.5 * (x / blurPixels) ** 2);
  });
  for (const width of [1, smearPixels]) density = runningMean(density, width * CELLS_PER_PIXEL);
  const total = density.reduce((sum, value) => sum + value, 0);
  const cumulative = new Float64Array(size);
  let sum = 0;
  for (let k = 0; k < size; k++) {
    cumulative[k] = (sum + density[k] / 2) / total;
    sum += density[k];
  }
  const at = (table: Float64Array, behind: number, below: number, above: number) => {
    const place = behind * CELLS_PER_PIXEL + (size - 1) / 2;
    const k = Math.floor(place);
    if (k < 0) return below;
    if (k >= size - 1) return above;
    return table[k] + (place - k) * (table[k + 1] - table[k]);
  };
  return {
    value: (behind) => at(cumulative, behind, 0, 1),
    slope: (behind) => (at(density, behind, 0, 0) / total) * CELLS_PER_PIXEL,
  };
}

/** Mean over a window of `width` cells (any real number), centred. */
function runningMean(values: Float64Array, width: number): Float64Array {
  if (width < 1e-9) return values;
  const sums = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k++) sums[k + 1] = sums[k] + values[k];
  const integral = (place: number) => {
    const clamped = Math.min(Math.max(place, 0), values.length);
    const k = Math.min(Math.floor(clamped), values.length - 1);
    return sums[k] + (clamped - k) * values[k];
  };
  return values.map((_, k) => (integral(k + 0.5 + width / 2) - integral(k + 0.5 - width / 2)) / width);
}
