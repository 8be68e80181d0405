import {
  type Camera,
  type Look,
  renderTarget,
  type Target,
} from "../../../scripts/calibration/render-target.js";
import { seenPoints } from "./cameras.js";

/** The least rms distance to which corners can be told from the samples nearer to them than to any other, each by itself:
 *  the bound of Cramér and Rao, from the change of the noiseless picture under a shift of the pattern by one pixel.
 *  Directions, blur and light are taken as known; by the symmetry of a corner they tell nothing of its place.
 *  Rounding to whole samples counts as noise.
 *  @returns px */
export function leastError(camera: Camera, target: Target, look: Look): number {
  const clear = { ...look, noise: 0 };
  const [x, y] = camera.axisPixels;
  const shifted = (dx: number, dy: number) =>
    renderTarget({ ...camera, axisPixels: [x + dx, y + dy] }, target, clear);
  const slopes = [
    [shifted(0.5, 0), shifted(-0.5, 0)],
    [shifted(0, 0.5), shifted(0, -0.5)],
  ].map(([ahead, back]) => Float64Array.from(ahead, (value, n) => value - back[n]));
  const corners = seenPoints(camera, target).map(({ pixel }) => pixel);
  const reach = 0.5 * Math.hypot(corners[1][0] - corners[0][0], corners[1][1] - corners[0][1]);
  const information = corners.map(() => [0, 0, 0]);
  for (let at = 0; at < slopes[0].length; at++) {
    const [gx, gy] = [slopes[0][at], slopes[1][at]];
    if (gx === 0 && gy === 0) continue;
    const [column, row] = [at % camera.columns, Math.floor(at / camera.columns)];
    const away = corners.map(([cx, cy]) => Math.hypot(column - cx, row - cy));
    const nearest = away.indexOf(Math.min(...away));
    if (away[nearest] > reach) continue;
    const one = information[nearest];
    one[0] += gx * gx;
    one[1] += gx * gy;
    one[2] += gy * gy;
  }
  const variance = look.noise ** 2 + 1 / 12;
  const squares = information.map(([xx, xy, yy]) => (variance * (xx + yy)) / (xx * yy - xy * xy));
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
}
