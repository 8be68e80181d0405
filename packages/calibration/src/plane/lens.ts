import { CalibrationError } from "../calibration-error.js";
import type { Lens, Point } from "../types.js";

/** What of a lens moves points. */
export type Distortion = Pick<Lens, "k1" | "k2" | "radiusPixels" | "centrePixels">;

/** Where the lens shows a point that a lens without distortion would show at `point`, px. */
export function distort({ k1, k2, radiusPixels, centrePixels: [cx, cy] }: Distortion, [x, y]: Point): Point {
  const q = ((x - cx) ** 2 + (y - cy) ** 2) / radiusPixels ** 2;
  const factor = 1 + q * (k1 + q * k2);
  return [cx + (x - cx) * factor, cy + (y - cy) * factor];
}

const MOST_STEPS = 50;

/** Where a lens without distortion would have shown what is seen at `point`, px: Newton's method on the distance
 *  from the centre.
 *  @throws CalibrationError `beyond-lens` where the polynomial shows nothing there */
export function undistort(lens: Distortion, [x, y]: Point): Point {
  const { k1, k2, radiusPixels, centrePixels } = lens;
  const [dx, dy] = [x - centrePixels[0], y - centrePixels[1]];
  const seen = Math.hypot(dx, dy) / radiusPixels;
  if (seen === 0) return [x, y];
  let rho = seen;
  for (let step = 0; step < MOST_STEPS; step++) {
    const q = rho * rho;
    const slope = 1 + q * (3 * k1 + 5 * q * k2);
    const off = rho * (1 + q * (k1 + q * k2)) - seen;
    if (!(slope > 0)) break;
    rho -= off / slope;
    if (Math.abs(off) < 1e-14 * seen)
      return [centrePixels[0] + (dx * rho) / seen, centrePixels[1] + (dy * rho) / seen];
  }
  throw new CalibrationError(
    "beyond-lens",
    `the distortion k1 = ${k1}, k2 = ${k2} shows nothing at ${x},${y} px: the lens was seen up to less than that; film the grid nearer to the edges of the picture`,
  );
}
