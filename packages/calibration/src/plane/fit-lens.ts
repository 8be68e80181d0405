import { CalibrationError } from "../calibration-error.js";
import { leastSquares } from "../numbers/least-squares.js";
import type { Lens, Matrix3, Point } from "../types.js";
import type { Correspondence } from "./check-points.js";
import { fitHomography } from "./fit-homography.js";
import { distort, undistort } from "./lens.js";
import { mapPoint, matrixOf } from "./matrix3.js";

export interface LensFit {
  readonly lens: Lens;
  /** Root mean square distance of the points from where map and lens put them, px. */
  readonly rmsPixels: number;
  /** The same without a lens. */
  readonly rmsWithoutPixels: number;
  readonly degreesOfFreedom: number;
}

/** Radial distortion k1, k2 from pictures of a plane grid, each in a pose of its own: one plane-to-plane map for each
 *  picture and the two coefficients for all, by least squares of the distances in the picture. The camera's focal
 *  length is not needed: k1 and k2 belong to the stated radius, and k/R² is what another radius would show.
 *  @param pictures  points of each, as seen; together more than eight for each picture and two
 *  @param centrePixels  the axis of the lens in the picture
 *  @param radiusPixels  unit of length of k1 and k2
 *  @throws CalibrationError `lens-not-resolved` where the points do not tell k1 and k2 apart; as `fitHomography`
 *  @see Brown, Photogrammetric Engineering 37 (1971) 855; Zhang, IEEE Trans. PAMI 22 (2000) 1330, 3.3 (citations from
 *    memory) */
export function fitLens(
  pictures: readonly (readonly Correspondence[])[],
  centrePixels: Point,
  radiusPixels: number,
): LensFit {
  const first = pictures.map((points) => fitHomography(points, { pointingPixels: 0 }));
  const count = pictures.reduce((sum, points) => sum + points.length, 0);
  const rmsOf = (squares: number) => Math.sqrt(squares / count);
  const rmsWithoutPixels = rmsOf(
    first.reduce((sum, { rmsPixels }, k) => sum + pictures[k].length * rmsPixels ** 2, 0),
  );
  const shapes = pictures.map((points, k) => chartAt(first[k].toPixels, points, centrePixels, radiusPixels));
  const size = 8;
  const split = (p: readonly number[]) => ({
    lens: { k1: p[0], k2: p[1], radiusPixels, centrePixels },
    maps: shapes.map((shape, k) => shape(p.slice(2 + size * k, 2 + size * (k + 1)))),
  });
  const residualsOf = (p: readonly number[]) => {
    const { lens, maps } = split(p);
    return pictures.flatMap((points, k) =>
      points.flatMap(({ pixel, plane }) => {
        const [x, y] = distort(lens, mapPoint(maps[k], plane));
        return [x - pixel[0], y - pixel[1]];
      }),
    );
  };
  const start = [0, 0, ...pictures.flatMap(() => Array.from({ length: size }, () => 0))];
  const fit = 2 * count > start.length ? leastSquares(residualsOf, start) : null;
  if (!fit) throw notResolved(count);
  const [k1, k2] = fit.parameters;
  const variance = fit.squares / fit.degreesOfFreedom;
  const covariance = [0, 1].map((i) => [0, 1].map((j) => fit.cofactor[i][j] * variance));
  const lens = { k1, k2, radiusPixels, centrePixels };
  const seen = pictures.flat().map(({ pixel }) => undistort(lens, pixel));
  const reachPixels = Math.max(...seen.map(([x, y]) => Math.hypot(x - centrePixels[0], y - centrePixels[1])));
  return {
    lens: {
      ...lens,
      covariance: [
        [covariance[0][0], covariance[0][1]],
        [covariance[1][0], covariance[1][1]],
      ],
      reachPixels,
    },
    rmsPixels: rmsOf(fit.squares),
    rmsWithoutPixels,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
}

/** Eight parameters of order 1 about a plane-to-pixel map: the pixels are moved by a map that is nearly the identity
 *  in units of the radius. */
function chartAt(
  about: Matrix3,
  points: readonly Correspondence[],
  [cx, cy]: Point,
  radius: number,
): (p: readonly number[]) => Matrix3 {
  // Rows of `about` in units of the radius about the centre, scaled so that the last component is 1 at the points.
  const w = points.reduce(
    (sum, { plane: [x, y] }) => sum + about[2][0] * x + about[2][1] * y + about[2][2],
    0,
  );
  const scale = points.length / w;
  const last = about[2].map((value) => value * scale);
  const unit = [0, 1].map((i) =>
    about[i].map((value, j) => (value * scale - [cx, cy][i] * last[j]) / radius),
  );
  const rows = [...unit, last];
  return (p) => {
    const moved = matrixOf((i, j) => {
      const part = (k: number) => (k === 8 ? 0 : p[k]) + (i === Math.floor(k / 3) && k % 3 === i ? 1 : 0);
      return [0, 1, 2].reduce((sum, m) => sum + part(3 * i + m) * rows[m][j], 0);
    });
    return matrixOf((i, j) => (i === 2 ? moved[2][j] : moved[i][j] * radius + [cx, cy][i] * moved[2][j]));
  };
}

function notResolved(count: number): CalibrationError {
  return new CalibrationError(
    "lens-not-resolved",
    `${count} points do not tell the distortion of the lens: film a grid of more points that reaches to the edges of the picture`,
  );
}
