import { isMotion } from "./is-motion.js";
import {
  FEWEST_PLACED,
  HALF_RUN,
  LEAST_EXPLAINED,
  LEAST_PLACED,
  LEAST_SURE_PIXELS,
  MOST_LAGS,
} from "./motion-criteria.js";
import { type RegisteredPicture, weighedProduct } from "./register-striped.js";

/** Variance of the shift across by white residuals, strips²; and Σ gradient². */
export function variancesOf({ gradient, weight, variance }: RegisteredPicture): [number, number] {
  const information = weighedProduct(weight, gradient, gradient);
  return [variance / information, information];
}

/** Whether a picture moves across the path, from what each frame shows against the texture; null where too few tell.
 *  @param stripPixels  between neighbouring strips */
export function judgeAcross(registered: readonly (RegisteredPicture | null)[], stripPixels: number) {
  const products = new Float64Array(MOST_LAGS + 1);
  for (const seen of registered) if (seen) addLaggedProducts(products, seen.weight, seen.residual);
  const alike = products.slice(1).reduce((sum, product) => sum + 2 * Math.max(0, product / products[0]), 1);
  const told = registered.flatMap((seen, i) => {
    if (!seen || !(seen.explained > LEAST_EXPLAINED * seen.variance)) return [];
    const [variance, information] = variancesOf(seen);
    const u = Math.sqrt(alike * variance) * stripPixels;
    if (!(u < LEAST_SURE_PIXELS)) return [];
    const { shift, move } = seen;
    const { pulls, squares } = halvesOf(seen);
    if (!(Math.min(...squares) > 0.1 * information)) return [];
    const halves = [0, 1].map((half) => (shift[1] + pulls[half] / squares[half]) * stripPixels);
    return [{ i, shift: (shift[1] + move[1]) * stripPixels, u, halves: halves as [number, number] }];
  });
  const shown = registered.filter((seen) => seen !== null).length;
  if (told.length < Math.max(FEWEST_PLACED, LEAST_PLACED * shown)) return null;
  const us = told.map(({ u }) => u);
  return {
    known: told.map(({ i }) => i),
    moves: isMotion(
      told.map(({ shift }) => shift),
      us,
      told.map(({ halves }) => halves),
    ),
    promised: told.reduce((sum, { shift, u }) => sum + (shift / u) ** 2, 0),
    standardUncertaintyPixels: Math.sqrt(us.reduce((sum, u) => sum + u * u, 0) / us.length),
  };
}

/** Adds Σ of the products of residuals so far apart, shape (lags,). */
function addLaggedProducts(products: Float64Array, weight: Float64Array, residual: Float64Array): void {
  for (let lag = 0; lag < products.length; lag++) {
    let sum = 0;
    for (let k = 0; k + lag < residual.length; k++)
      sum += weight[k] * weight[k + lag] * residual[k] * residual[k + lag];
    products[lag] += sum;
  }
}

/** Of the two halves of the samples, in turns along the path, Σ gradient · residual before the next step across, and
 *  Σ gradient². */
function halvesOf({ gradient, residual, weight, place, move }: RegisteredPicture) {
  const pulls = new Float64Array(2);
  const squares = new Float64Array(2);
  for (let k = 0; k < gradient.length; k++) {
    const half = Math.floor(place[k] / HALF_RUN) & 1;
    pulls[half] += weight[k] * gradient[k] * (residual[k] + gradient[k] * move[1]);
    squares[half] += weight[k] * gradient[k] ** 2;
  }
  return { pulls, squares };
}
