import type { Lens } from "../types.js";
import type { Correspondence } from "./check-points.js";
import { fitHomography, type HomographyFit, type HomographyOptions } from "./fit-homography.js";
import { undistort } from "./lens.js";
import { matrixOf } from "./matrix3.js";

/** The map from the picture to the plane of known points, seen through a lens of known distortion: that of the points
 *  as a lens without distortion would show them, and how it moves with k1 and k2.
 *  @throws CalibrationError as `fitHomography`; `beyond-lens` */
export function fitPlane(
  points: readonly Correspondence[],
  lens: Lens | null,
  options: HomographyOptions = {},
): HomographyFit {
  if (!lens) return fitHomography(points, options);
  const through = (k1: number, k2: number) =>
    fitHomography(
      points.map(({ pixel, plane }) => ({ pixel: undistort({ ...lens, k1, k2 }, pixel), plane })),
      options,
    );
  const { k1, k2, covariance } = lens;
  const fit = through(k1, k2);
  const steps = [0, 1].map((k) => Math.sqrt(covariance[k][k]) / 10 || 1e-7);
  const columns = [
    [through(k1 + steps[0], k2), through(k1 - steps[0], k2)],
    [through(k1, k2 + steps[1]), through(k1, k2 - steps[1])],
  ].map(([above, below], k) => {
    const low = below.map.matrix.flat();
    return above.map.matrix.flat().map((high, n) => (high - low[n]) / (2 * steps[k]));
  });
  return { ...fit, map: { ...fit.map, lensSlopes: columns[0].map((value, n) => [value, columns[1][n]]) } };
}

/** A map whose plane is that of the points, larger by a factor about the camera: what lies farther off. */
export function scaledMap(map: HomographyFit["map"], factor: number): HomographyFit["map"] {
  const of = (n: number) => (n < 6 ? factor : 1);
  return {
    ...map,
    matrix: matrixOf((i, j) => map.matrix[i][j] * of(3 * i)),
    covariance: map.covariance.map((row, m) => row.map((value, n) => value * of(m) * of(n))),
    ...(map.lensSlopes && {
      lensSlopes: map.lensSlopes.map((row, n) => row.map((value) => value * of(n))),
    }),
  };
}
