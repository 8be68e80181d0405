import { checkSeries, eachUncertainty } from "./check-series.js";
import { varianceInflation } from "./residual-tests.js";
import { solveLeastSquares } from "./solve-least-squares.js";
import { studentFactor } from "./student-t.js";

export interface LocalSpeedOptions {
  /** One standard uncertainty of each position, or of all, > 0. Default: unknown, the same for all. */
  readonly standardUncertainty?: number | readonly number[];
  /** Degree of the polynomials, 1 to 6. Default: 2. */
  readonly degree?: number;
  /** Positions that each polynomial goes through, more than degree + 1. Default: a quarter of all, at least degree + 3. */
  readonly points?: number;
  /** Polynomials in the logarithms of time and position, both > 0: for what slows as a power of time, and for times that spread over
   *  decades. Default: false. */
  readonly logarithmic?: boolean;
}

/** Speed at the time of each position, shape (N,) each. */
export interface LocalSpeed {
  readonly times: readonly number[];
  readonly speeds: readonly number[];
  readonly standardUncertainties: readonly number[];
  /** Half-width of the band that holds the smoothed speed at one time with 95 %. */
  readonly halfWidths: readonly number[];
}

/** Speed as a function of time without a model: at each time the slope of a polynomial through the nearest positions, weighed
 *  by how near they are (tricube). The band is of the noise, from the stated uncertainties or the scatter about the polynomials, whichever
 *  is larger, and of residuals that wander together; what a polynomial cannot follow within its window is not in it, so that a
 *  narrower window has to give the same.
 *  @param times  shape (N,), strictly increasing
 *  @param positions  shape (N,)
 *  @throws RangeError on values that are not so, and where the points are too few
 *  @see Cleveland and Devlin, J. Am. Stat. Assoc. 83 (1988) 596 (citation from memory) */
export function localSpeed(
  times: readonly number[],
  positions: readonly number[],
  options: LocalSpeedOptions = {},
): LocalSpeed {
  const { degree = 2, logarithmic = false } = options;
  const { points = Math.max(degree + 3, Math.ceil(times.length / 4)) } = options;
  const u = checkLocal(times, positions, { ...options, degree, points, logarithmic });
  const x = logarithmic ? times.map(Math.log) : times;
  const y = logarithmic ? positions.map(Math.log) : positions;
  const uncertainty = u.map((value, i) => (logarithmic ? value / positions[i] : value));
  const windows = x.map((at) => windowAt(x, at, points, degree));
  const residuals = windows.map(({ indices, valueWeights }, i) => {
    const fitted = indices.reduce((sum, index, k) => sum + valueWeights[k] * y[index], 0);
    return (y[i] - fitted) / uncertainty[i];
  });
  // The smoother's own weights leave of each residual's variance (1 − l)², and of N residuals N − Σl degrees of freedom.
  const spent = windows.reduce((sum, { ownWeight }) => sum + ownWeight, 0);
  const freedom = Math.max(1, x.length - spent);
  const scatter = residuals.reduce((sum, r) => sum + r * r, 0) / freedom;
  const stated = options.standardUncertainty === undefined ? 0 : 1;
  const inflation = varianceInflation(residuals, Math.min(Math.round(spent), Math.floor(x.length / 4)));
  const variance = inflation * Math.max(scatter, stated);
  const factor = studentFactor(Math.max(1, x.length < 20 ? freedom : x.length / inflation - spent));
  const perSlope = (i: number) => (logarithmic ? positions[i] / times[i] : 1);
  const standardUncertainties = windows.map(({ indices, slopeWeights }, i) => {
    const squares = indices.reduce((sum, index, k) => sum + (slopeWeights[k] * uncertainty[index]) ** 2, 0);
    return perSlope(i) * Math.sqrt(variance * squares);
  });
  return {
    times,
    speeds: windows.map(
      ({ indices, slopeWeights }, i) =>
        perSlope(i) * indices.reduce((sum, index, k) => sum + slopeWeights[k] * y[index], 0),
    ),
    standardUncertainties,
    halfWidths: standardUncertainties.map((value) => factor * value),
  };
}

interface LocalWindow {
  readonly indices: readonly number[];
  /** Value and slope at the centre are their products with the ordinates. */
  readonly valueWeights: readonly number[];
  readonly slopeWeights: readonly number[];
  /** Weight of the ordinate at the centre in the value there. */
  readonly ownWeight: number;
}

function windowAt(x: readonly number[], at: number, points: number, degree: number): LocalWindow {
  const indices = Array.from(x.keys())
    .sort((a, b) => Math.abs(x[a] - at) - Math.abs(x[b] - at))
    .slice(0, points);
  const far = Math.abs(x[indices[points - 1]] - at) * (1 + 1e-3);
  const root = indices.map((i) => Math.sqrt((1 - (Math.abs(x[i] - at) / far) ** 3) ** 3));
  const columns = Array.from({ length: degree + 1 }, (_, power) =>
    indices.map((i, k) => root[k] * ((x[i] - at) / far) ** power),
  );
  // Rows of the pseudo-inverse, (AᵀA)⁻¹ Aᵀ: what each ordinate gives to value and slope.
  const solved = solveLeastSquares(columns, root);
  if (!solved) throw new RangeError(`times must differ by more than rounding about ${at}`);
  const inverse = solved.root.mmul(solved.root.transpose());
  const weightsOf = (row: number) =>
    indices.map((_, k) =>
      columns.reduce((sum, column, power) => sum + inverse.get(row, power) * column[k] * root[k], 0),
    );
  const valueWeights = weightsOf(0);
  return {
    indices,
    valueWeights,
    slopeWeights: weightsOf(1).map((weight) => weight / far),
    ownWeight: valueWeights[0],
  };
}

/** @returns one standard uncertainty for each position, 1 where none is stated */
function checkLocal(
  times: readonly number[],
  positions: readonly number[],
  {
    standardUncertainty,
    degree,
    points,
    logarithmic,
  }: LocalSpeedOptions & { degree: number; points: number },
): readonly number[] {
  checkSeries(times, positions);
  if (!Number.isInteger(degree) || degree < 1 || degree > 6)
    throw new RangeError(`degree must be a whole number from 1 to 6, got ${degree}`);
  if (!Number.isInteger(points) || points <= degree + 1 || points > times.length)
    throw new RangeError(
      `points must be a whole number from ${degree + 2} to the ${times.length} positions, got ${points}`,
    );
  if (logarithmic && !(times[0] > 0 && positions.every((position) => position > 0)))
    throw new RangeError("times and positions must be > 0 for their logarithms");
  return eachUncertainty(standardUncertainty, times.length) ?? times.map(() => 1);
}
