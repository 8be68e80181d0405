import { CalibrationError } from "../calibration-error.js";
import type { Matrix3, Point } from "../types.js";
import type { Distortion } from "./lens.js";
import { undistort } from "./lens.js";
import { homogeneous } from "./matrix3.js";

/** How a picture shows a plane: through a lens, if its distortion is known, and a plane-to-plane map. */
export interface PlaneView {
  /** Undistorted pixels to metres; the last component is positive where the plane is seen. */
  readonly matrix: Matrix3;
  readonly lens?: Distortion;
}

/** The point of the plane that is seen at `pixel`, m.
 *  @throws CalibrationError `beyond-horizon` on the horizon of the plane and beyond, `beyond-lens` */
export function planePoint({ matrix, lens }: PlaneView, pixel: Point): Point {
  const [u, v, w] = homogeneous(matrix, lens ? undistort(lens, pixel) : pixel);
  const size = Math.hypot(...matrix[2].map((value, k) => value * [pixel[0], pixel[1], 1][k]));
  if (!(w > 1e-9 * size))
    throw new CalibrationError(
      "beyond-horizon",
      `the plane of the calibrated points is not seen at ${pixel} px: its horizon lies between them and there`,
    );
  return [u / w, v / w];
}

/** Metres per pixel about a point, the square root of the area that a pixel shows. */
export function localScale(view: PlaneView, [x, y]: Point): number {
  const [right, left] = [planePoint(view, [x + 0.5, y]), planePoint(view, [x - 0.5, y])];
  const [below, above] = [planePoint(view, [x, y + 0.5]), planePoint(view, [x, y - 0.5])];
  const [ax, ay] = [right[0] - left[0], right[1] - left[1]];
  const [bx, by] = [below[0] - above[0], below[1] - above[1]];
  return Math.sqrt(Math.abs(ax * by - ay * bx));
}
