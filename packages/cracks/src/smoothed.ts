/** Weights of a binomial of order four: a Gaussian of standard deviation 1 px. */
const WEIGHTS = [1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16];
const REACH = 2;

/** A picture smoothed by a Gaussian of 1 px along rows and columns; beyond the border it goes on as at the border. */
export function smoothed(picture: Float64Array, rows: number, columns: number): Float64Array {
  return along(along(picture, columns, rows, 1, columns), rows, columns, columns, 1);
}

/** @param length  samples of a line, `step` apart; `lines` of them, `stride` apart */
function along(
  picture: Float64Array,
  length: number,
  lines: number,
  step: number,
  stride: number,
): Float64Array {
  const out = new Float64Array(picture.length);
  for (let line = 0; line < lines; line++)
    for (let k = 0; k < length; k++) {
      let sum = 0;
      for (let j = -REACH; j <= REACH; j++) {
        const at = Math.min(length - 1, Math.max(0, k + j));
        sum += WEIGHTS[j + REACH] * picture[line * stride + at * step];
      }
      out[line * stride + k * step] = sum;
    }
  return out;
}
