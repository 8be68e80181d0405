import { type BandedMatrix, bandedZeros } from "./banded.js";
import type { Information } from "./information.js";

/** W + Q, Q = (τ²R)⁻¹ the precision of a stationary first-order autoregressive wander sampled at x.
 *  @param x  shape (N,), strictly increasing; gaps allowed
 *  @param tau  standard deviation of the wander, > 0
 *  @param correlation  ρ of samples one unit of x apart, 0 <= ρ < 1
 *  @returns the sum; Q itself, tridiagonal; log |Q| */
export function addWanderPrecision(
  { banded, lost }: Information,
  x: ArrayLike<number>,
  tau: number,
  correlation: number,
): { sum: Information; precision: BandedMatrix; logDeterminantQ: number } {
  const { precision, logDeterminantQ } = wanderPrecision(x, tau, correlation);
  const sum = bandedZeros(banded.size, Math.max(banded.bandwidth, precision.bandwidth));
  for (const { bandwidth, data } of [banded, precision])
    for (let i = 0; i < sum.size; i++)
      for (let k = 0; k <= Math.min(bandwidth, i); k++)
        sum.data[i * (sum.bandwidth + 1) + k] += data[i * (bandwidth + 1) + k];
  return { sum: { banded: sum, lost }, precision, logDeterminantQ };
}

function wanderPrecision(x: ArrayLike<number>, tau: number, correlation: number) {
  const precision = bandedZeros(x.length, 1);
  const { data } = precision;
  data[0] = 1 / tau ** 2;
  let logDeterminantQ = -2 * Math.log(tau);
  // Steps are equal but for gaps.
  let step = Number.NaN;
  let phi = 0;
  let innovation = 0;
  let logInnovation = 0;
  for (let i = 1; i < x.length; i++) {
    if (x[i] - x[i - 1] !== step) {
      step = x[i] - x[i - 1];
      phi = correlation ** step;
      innovation = 1 / (tau ** 2 * (1 - phi * phi));
      logInnovation = Math.log(innovation);
    }
    data[2 * i] = innovation;
    data[2 * i + 1] = -phi * innovation;
    data[2 * i - 2] += phi * phi * innovation;
    logDeterminantQ += logInnovation;
  }
  return { precision, logDeterminantQ };
}
