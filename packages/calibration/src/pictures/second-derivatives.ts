import { blurred, type Field } from "./field.js";

/** Second derivatives of a blurred picture. */
export interface Curvature {
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: Float64Array;
  readonly smooth: Field;
}

export function secondDerivatives(field: Field, sigma: number): Curvature {
  const smooth = blurred(field, sigma);
  const { data, rows, columns } = smooth;
  const [xx, xy, yy] = [0, 1, 2].map(() => new Float64Array(data.length));
  for (let y = 1; y < rows - 1; y++)
    for (let x = 1; x < columns - 1; x++) {
      const at = y * columns + x;
      xx[at] = data[at + 1] - 2 * data[at] + data[at - 1];
      yy[at] = data[at + columns] - 2 * data[at] + data[at - columns];
      xy[at] =
        (data[at + columns + 1] - data[at + columns - 1] - data[at - columns + 1] + data[at - columns - 1]) /
        4;
    }
  return { xx, xy, yy, smooth };
}

/** Standard deviation that white noise of 1 has in the mixed second derivative, and in the sum of the two others, of a
 *  picture blurred by a Gaussian: integrals over its derivatives. */
export function noiseGain(sigma: number): { readonly mixed: number; readonly trace: number } {
  return {
    mixed: 1 / (4 * Math.sqrt(Math.PI) * sigma ** 3),
    trace: 1 / (Math.sqrt(2 * Math.PI) * sigma ** 3),
  };
}
