import type { Lens, PlaneMap, Point } from "../types.js";
import { undistort } from "./lens.js";
import { matrixOf, sideOf } from "./matrix3.js";

/** A map that is known up to a factor of either sign, with the sign that its last component is positive where the plane
 *  is seen.
 *  @param seenAt  a pixel that shows the plane, as the picture has it
 *  @throws CalibrationError `beyond-lens` */
export function orientedMap(map: PlaneMap, lens: Lens | null, seenAt: Point): PlaneMap {
  const sign = sideOf(map.matrix, lens ? undistort(lens, seenAt) : seenAt);
  if (sign > 0) return map;
  return {
    ...map,
    matrix: matrixOf((i, j) => -map.matrix[i][j]),
    ...(map.lensSlopes && { lensSlopes: map.lensSlopes.map((row) => row.map((value) => -value)) }),
  };
}
