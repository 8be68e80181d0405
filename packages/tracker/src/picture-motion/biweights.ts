import { median } from "@frontpace/fit";

/** Tukey's biweight, 95 % efficient where the noise is normal. */
const TUKEY = 4.685;

/** How much each sample counts by what a fit leaves of it, 0..1: what departs far from the others does not count.
 *  @see Huber and Ronchetti, Robust Statistics, 2nd ed. (2009), 4.8 (citation from memory) */
export function biweights(residual: Float64Array): Float64Array {
  const weight = new Float64Array(residual.length);
  for (let k = 0; k < weight.length; k++) weight[k] = Math.abs(residual[k]);
  const scale = TUKEY * Math.max(1.4826 * median(weight), 1e-12);
  for (let k = 0; k < weight.length; k++) {
    const z = weight[k] / scale;
    weight[k] = z >= 1 ? 0 : (1 - z * z) ** 2;
  }
  return weight;
}
