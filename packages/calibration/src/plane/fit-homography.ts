import { EVD, Matrix } from "ml-matrix";
import { CalibrationError } from "../calibration-error.js";
import { leastSquares } from "../numbers/least-squares.js";
import type { Matrix3, PlaneMap, Point } from "../types.js";
import { type Correspondence, checkPoints } from "./check-points.js";
import { adjugate, homogeneous, mapPoint, matrixOf, multiply, sideOf } from "./matrix3.js";

export interface HomographyFit {
  /** Pixels to metres. */
  readonly map: PlaneMap;
  /** Metres to pixels. */
  readonly toPixels: Matrix3;
  /** Of a coordinate in the picture, px: as stated, or from the residuals where there is more than one spare point. */
  readonly pointingPixels: number;
  /** Of `pointingPixels`: 2 N − 8 where the residuals say more than what was stated; else null, infinite. */
  readonly pointingDegreesOfFreedom: number | null;
  /** Root mean square distance of the points from where the map puts them, px. */
  readonly rmsPixels: number;
  /** 2 N − 8 */
  readonly degreesOfFreedom: number;
}

export interface HomographyOptions {
  /** One standard uncertainty of a coordinate in the picture, px. The residuals take its place where they say
   *  more. Default: the residuals alone, which needs more than four points. */
  readonly pointingPixels?: number;
}

/** The map between the plane of known points and the picture: normalised direct linear transformation, then least
 *  squares of the distances in the picture, whose covariance is carried over to the map.
 *  @param points  N >= 4, no three of four in a line
 *  @throws CalibrationError as `checkPoints`, and where four points come without `pointingPixels`
 *  @see Hartley, IEEE Trans. PAMI 19 (1997) 580 (normalisation); Hartley & Zisserman, Multiple View Geometry, 2nd ed.
 *    (2004), algorithms 4.2 and 4.3 (citations from memory) */
export function fitHomography(
  points: readonly Correspondence[],
  { pointingPixels }: HomographyOptions = {},
): HomographyFit {
  checkPoints(points);
  const degreesOfFreedom = 2 * points.length - 8;
  if (degreesOfFreedom === 0 && pointingPixels === undefined)
    throw new CalibrationError(
      "invalid-value",
      "four points leave no residuals: state the uncertainty of pointing, or give more points",
    );
  const plane = normaliser(points.map((one) => one.plane));
  const picture = normaliser(points.map((one) => one.pixel));
  const from = points.map((one) => mapPoint(plane.matrix, one.plane));
  const to = points.map((one) => mapPoint(picture.matrix, one.pixel));
  const linear = directLinear(from, to);
  const chart = chartOf(linear);
  const fit = leastSquares(
    (p) => distances(chart.matrix(p), from, to),
    chart.start,
    (p) => distanceSlopes(chart.matrix(p), from).toSpliced(chart.fixed, 1),
  );
  if (!fit) throw inLine(points.length);
  const rmsPixels = Math.sqrt(fit.squares / points.length) / picture.scale;
  const scatter = degreesOfFreedom > 0 ? Math.sqrt(fit.squares / degreesOfFreedom) / picture.scale : 0;
  const pointing = Math.max(pointingPixels ?? 0, scatter);
  const normalised = chart.matrix(fit.parameters);
  const toPixels = multiply(multiply(adjugate(picture.matrix), normalised), plane.matrix);
  const mapOf = (p: readonly number[]) =>
    unit(
      multiply(multiply(adjugate(plane.matrix), adjugate(chart.matrix(p))), picture.matrix),
      picture.middle,
    );
  const covariance = propagate(mapOf, fit.parameters, fit.cofactor, (pointing * picture.scale) ** 2);
  return {
    map: { matrix: mapOf(fit.parameters), covariance },
    toPixels,
    pointingPixels: pointing,
    pointingDegreesOfFreedom: scatter > (pointingPixels ?? 0) ? degreesOfFreedom : null,
    rmsPixels,
    degreesOfFreedom,
  };
}

/** Brings points to mean zero and a mean distance of √2. */
function normaliser(points: readonly Point[]): {
  readonly matrix: Matrix3;
  readonly scale: number;
  readonly middle: Point;
} {
  const mean = (k: 0 | 1) => points.reduce((sum, p) => sum + p[k], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const distance = points.reduce((sum, p) => sum + Math.hypot(p[0] - x, p[1] - y), 0) / points.length;
  const scale = Math.SQRT2 / distance;
  return {
    matrix: [
      [scale, 0, -scale * x],
      [0, scale, -scale * y],
      [0, 0, 1],
    ],
    scale,
    middle: [x, y],
  };
}

/** The unit vector h that comes closest to A h = 0. */
function directLinear(from: readonly Point[], to: readonly Point[]): Matrix3 {
  const rows = from.flatMap(([x, y], k) => {
    const [u, v] = to[k];
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, -v],
    ];
  });
  const a = new Matrix(rows);
  const { eigenvectorMatrix, realEigenvalues } = new EVD(a.transpose().mmul(a), { assumeSymmetric: true });
  const least = realEigenvalues.indexOf(Math.min(...realEigenvalues));
  const h = eigenvectorMatrix.getColumn(least);
  return matrixOf((i, j) => h[3 * i + j]);
}

/** Eight parameters about a map: its largest entry keeps its value. */
function chartOf(about: Matrix3) {
  const entries = about.flat();
  const fixed = entries.reduce((best, value, k) => (Math.abs(value) > Math.abs(entries[best]) ? k : best), 0);
  const scaled = entries.map((value) => value / entries[fixed]);
  return {
    fixed,
    start: scaled.toSpliced(fixed, 1),
    matrix(parameters: readonly number[]): Matrix3 {
      const all = parameters.toSpliced(fixed, 0, 1);
      return matrixOf((i, j) => all[3 * i + j]);
    },
  };
}

function distances(h: Matrix3, from: readonly Point[], to: readonly Point[]): Float64Array {
  const off = new Float64Array(2 * from.length);
  for (let k = 0; k < from.length; k++) {
    const [u, v, w] = homogeneous(h, from[k]);
    off[2 * k] = u / w - to[k][0];
    off[2 * k + 1] = v / w - to[k][1];
  }
  return off;
}

/** Their derivatives after each entry of the map, shape (9, 2 N). */
function distanceSlopes(h: Matrix3, from: readonly Point[]): Float64Array[] {
  const slopes = Array.from({ length: 9 }, () => new Float64Array(2 * from.length));
  for (let k = 0; k < from.length; k++) {
    const [u, v, w] = homogeneous(h, from[k]);
    for (let j = 0; j < 3; j++) {
      const slope = (j < 2 ? from[k][j] : 1) / w;
      slopes[j][2 * k] = slope;
      slopes[3 + j][2 * k + 1] = slope;
      slopes[6 + j][2 * k] = (-u / w) * slope;
      slopes[6 + j][2 * k + 1] = (-v / w) * slope;
    }
  }
  return slopes;
}

/** Frobenius norm 1, and the last component positive where the points are seen. */
function unit(h: Matrix3, seenAt: Point): Matrix3 {
  const factor = sideOf(h, seenAt) / Math.hypot(...h.flat());
  return matrixOf((i, j) => h[i][j] * factor);
}

/** Linear propagation through central differences: C Σ Cᵀ. */
function propagate(
  mapOf: (parameters: readonly number[]) => Matrix3,
  parameters: readonly number[],
  cofactor: readonly (readonly number[])[],
  variance: number,
): number[][] {
  const slopes = parameters.map((value, k) => {
    const step = 1e-5 * Math.max(1, Math.abs(value));
    const above = mapOf(parameters.with(k, value + step)).flat();
    const below = mapOf(parameters.with(k, value - step)).flat();
    return above.map((high, n) => (high - below[n]) / (2 * step));
  });
  const entry = (m: number, n: number) => {
    let sum = 0;
    for (let i = 0; i < slopes.length; i++)
      for (let j = 0; j < slopes.length; j++) sum += slopes[i][m] * cofactor[i][j] * slopes[j][n];
    return sum * variance;
  };
  return Array.from({ length: 9 }, (_, m) => Array.from({ length: 9 }, (_, n) => entry(m, n)));
}

function inLine(count: number): CalibrationError {
  return new CalibrationError(
    "points-in-line",
    `the ${count} points do not fix a plane map: too many lie in a line, or too close together`,
  );
}
