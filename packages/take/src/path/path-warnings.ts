import type { Point } from "@frontpace/calibration";
import type { ScaleFile, TakeWarning } from "../types.js";

/** Upright: top left and bottom right corner. */
type Rectangle = readonly [Point, Point];

/** A map is said to be carried beyond its points from such a share of their extent on. */
const CARRIED = 0.2;
/** px; a path may end on the very edge of the picture. */
const ROUNDING = 1e-6;
const WHAT_TO_DO =
  "Film the standard where the front runs and calibrate again, or give a path inside with --path";

/** What of a calibration is a guess along a path.
 *  @param path  px of the stills of the calibration */
export function pathWarnings(scale: ScaleFile, path: readonly Point[]): TakeWarning[] {
  return [...beyondPicture(scale, path), ...beyondLens(scale, path), ...beyondPoints(scale, path)];
}

function beyondLens({ lens }: ScaleFile, path: readonly Point[]): TakeWarning[] {
  if (!lens) return [];
  const [x, y] = lens.centrePixels;
  const farthest = Math.max(...path.map((point) => Math.hypot(point[0] - x, point[1] - y)));
  if (farthest <= lens.reachPixels) return [];
  const message = `the path reaches to ${Math.round(farthest)} px from the axis of the lens, and the grid showed it up to ${Math.round(lens.reachPixels)} px only: the distortion is a guess beyond`;
  return [{ code: "beyond-calibrated-lens", message }];
}

/** A path that leaves the picture that was calibrated: a take from another part of the sensor, or larger. */
function beyondPicture({ planeMap, lens, rows, columns }: ScaleFile, path: readonly Point[]): TakeWarning[] {
  if (!planeMap && !lens) return [];
  const picture: Rectangle = [
    [-0.5, -0.5],
    [columns - 0.5, rows - 0.5],
  ];
  const away = farthestOutside(picture, path);
  if (away <= ROUNDING) return [];
  const what = planeMap ? "plane map" : "lens";
  const message = `the path reaches to ${inPixels(away)} px outside the picture that was calibrated (${columns} x ${rows} px, its own pixels), where nothing was seen of the ${what}. ${WHAT_TO_DO}`;
  return [{ code: "beyond-calibration", message }];
}

/** A path that leaves the rectangle about the calibrated points by more than a share of its diagonal. */
function beyondPoints({ planeMap, madeFrom }: ScaleFile, path: readonly Point[]): TakeWarning[] {
  const { pointsBetweenPixels: corners } = madeFrom;
  if (!planeMap || !corners) return [];
  const [[left, top], [right, bottom]] = corners;
  const extent = Math.hypot(right - left, bottom - top);
  const away = farthestOutside(corners, path);
  if (away <= CARRIED * extent) return [];
  const message = `the path reaches to ${inPixels(away)} px from the calibrated points, which span ${Math.round(extent)} px only (pixels of the calibrated picture): the plane map is carried beyond them. ${WHAT_TO_DO}`;
  return [{ code: "beyond-calibrated-points", message }];
}

/** Distance from a rectangle to the farthest point of a path, in the same unit; 0 inside. */
function farthestOutside([[left, top], [right, bottom]]: Rectangle, path: readonly Point[]): number {
  const outside = (value: number, low: number, high: number) => Math.max(low - value, 0, value - high);
  return Math.max(...path.map(([x, y]) => Math.hypot(outside(x, left, right), outside(y, top, bottom))));
}

function inPixels(length: number): string {
  return length < 10 ? length.toFixed(1) : `${Math.round(length)}`;
}
