import { Matrix } from "ml-matrix";
import { solveLeastSquares } from "./solve-least-squares.js";

export interface PolynomialFitOptions {
  /** One standard uncertainty of each y, > 0. Given, the weights are absolute (covariance not rescaled by the
   *  residuals); absent, all points weigh the same and the covariance takes the residual variance. */
  readonly standardUncertainty?: readonly number[];
  /** Line through the origin: no constant term. Default false. */
  readonly throughOrigin?: boolean;
}

/** A least-squares polynomial y = c0 + c1 x + c2 x² + … */
export interface PolynomialFit {
  /** Coefficients in rising powers of x; c0 is 0 in a fit through the origin. */
  readonly coefficients: readonly number[];
  /** Covariance of the coefficients, same order; row and column of c0 are 0 in a fit through the origin. */
  readonly covariance: readonly (readonly number[])[];
  /** y − fitted y. */
  readonly residuals: readonly number[];
  /** sqrt(Σ w r² / degreesOfFreedom), w = 1/u² (1 without uncertainties). */
  readonly residualStandardDeviation: number;
  /** Σ w r² */
  readonly chiSquared: number;
  /** N − number of coefficients fitted */
  readonly degreesOfFreedom: number;
}

const HIGHEST_DEGREE = 12;

/** Polynomial of a degree from 1 to 12 by weighted least squares: Householder QR on the abscissae
 *  centred and scaled, so that a clock that starts late costs no digits.
 *  @param x  shape (N,), N > number of coefficients
 *  @param y  shape (N,)
 *  @throws RangeError on another degree, lengths that differ, too few points, values that are not finite, u <= 0, or
 *    abscissae that leave the polynomial undetermined
 *  @see JCGM 100:2008, H.3; ISO/TS 28037:2010, 6 */
export function fitPolynomial(
  x: readonly number[],
  y: readonly number[],
  degree: number,
  { standardUncertainty, throughOrigin = false }: PolynomialFitOptions = {},
): PolynomialFit {
  const count = x.length;
  if (!Number.isInteger(degree) || degree < 1 || degree > HIGHEST_DEGREE)
    throw new RangeError(`degree must be a whole number from 1 to ${HIGHEST_DEGREE}, got ${degree}`);
  const terms = throughOrigin ? degree : degree + 1;
  checkInput(x, y, terms, standardUncertainty);
  const different = new Set(throughOrigin ? x.filter((value) => value !== 0) : x).size;
  if (different < terms)
    throw new RangeError(
      `x must hold at least ${terms} different values${throughOrigin ? " besides 0" : ""}, got ${different}`,
    );
  const centre = throughOrigin ? 0 : x.reduce((sum, value) => sum + value, 0) / count;
  const scale = x.reduce((largest, value) => Math.max(largest, Math.abs(value - centre)), 0);

  const rootWeight = (i: number) => (standardUncertainty ? 1 / standardUncertainty[i] : 1);
  const firstPower = throughOrigin ? 1 : 0;
  const solved = solveLeastSquares(
    Array.from({ length: terms }, (_, k) =>
      x.map((value, i) => rootWeight(i) * ((value - centre) / scale) ** (k + firstPower)),
    ),
    y.map((value, i) => rootWeight(i) * value),
  );
  if (!solved)
    throw new RangeError(
      `x must hold at least ${terms} values that differ by more than rounding, got ${different} within ${2 * scale}`,
    );
  const { sumOfSquares: chiSquared } = solved;
  const degreesOfFreedom = count - terms;
  const variance = standardUncertainty ? 1 : chiSquared / degreesOfFreedom;

  const toPowersOfX = powersOfX(degree, centre, scale).subMatrix(0, degree, firstPower, degree);
  const map = toPowersOfX.mmul(solved.root);
  return {
    coefficients: toPowersOfX.mmul(Matrix.columnVector([...solved.solution])).to1DArray(),
    covariance: map.mmul(map.transpose()).mul(variance).to2DArray(),
    residuals: solved.residuals.map((value, i) => value / rootWeight(i)),
    residualStandardDeviation: Math.sqrt(chiSquared / degreesOfFreedom),
    chiSquared,
    degreesOfFreedom,
  };
}

/** Column k holds the powers of x in ((x − centre)/scale)^k. */
function powersOfX(degree: number, centre: number, scale: number): Matrix {
  const map = Matrix.zeros(degree + 1, degree + 1);
  for (let k = 0; k <= degree; k++) {
    let binomial = 1;
    for (let j = k; j >= 0; j--) {
      map.set(j, k, (binomial * (-centre) ** (k - j)) / scale ** k);
      binomial = (binomial * j) / (k - j + 1);
    }
  }
  return map;
}

function checkInput(
  x: readonly number[],
  y: readonly number[],
  terms: number,
  standardUncertainty: readonly number[] | undefined,
): void {
  if (y.length !== x.length)
    throw new RangeError(`y must have the length of x, ${x.length}, got ${y.length}`);
  if (x.length <= terms) throw new RangeError(`x must hold more than ${terms} points, got ${x.length}`);
  if (standardUncertainty && standardUncertainty.length !== x.length)
    throw new RangeError(
      `standardUncertainty must have the length of x, ${x.length}, got ${standardUncertainty.length}`,
    );
  const odd = (values: readonly number[], good: (value: number) => boolean, name: string, rule: string) => {
    const at = values.findIndex((value) => !good(value));
    if (at >= 0) throw new RangeError(`${name}[${at}] must be ${rule}, got ${values[at]}`);
  };
  odd(x, Number.isFinite, "x", "finite");
  odd(y, Number.isFinite, "y", "finite");
  if (standardUncertainty)
    odd(
      standardUncertainty,
      (u) => u > 0 && u < Number.POSITIVE_INFINITY,
      "standardUncertainty",
      "finite and > 0",
    );
}
