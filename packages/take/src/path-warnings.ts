import type { Point } from "@frontpace/calibration";
import type { ScaleFile, TakeWarning } from "./types.js";

/** What of a calibration is a guess along a path.
 *  @param path  px of the stills of the calibration */
export function pathWarnings(scale: ScaleFile, path: readonly Point[]): TakeWarning[] {
  return [...beyondLens(scale, path), ...beyondPoints(scale, path)];
}

function beyondLens({ lens }: ScaleFile, path: readonly Point[]): TakeWarning[] {
  if (!lens) return [];
  const [x, y] = lens.centrePixels;
  const farthest = Math.max(...path.map((point) => Math.hypot(point[0] - x, point[1] - y)));
  if (farthest <= lens.reachPixels) return [];
  const message = `the path reaches to ${Math.round(farthest)} px from the axis of the lens, and the grid showed it up to ${Math.round(lens.reachPixels)} px only: the distortion is a guess beyond`;
  return [{ code: "beyond-calibrated-lens", message }];
}

/** A path that ends farther from the rectangle about the calibrated points than that is long from corner to corner. */
function beyondPoints({ planeMap, madeFrom }: ScaleFile, path: readonly Point[]): TakeWarning[] {
  const { pointsBetweenPixels: corners } = madeFrom;
  if (!planeMap || !corners) return [];
  const [[left, top], [right, bottom]] = corners;
  const extent = Math.hypot(right - left, bottom - top);
  const outside = (value: number, low: number, high: number) => Math.max(low - value, 0, value - high);
  const away = Math.max(
    ...path.map(([x, y]) => Math.hypot(outside(x, left, right), outside(y, top, bottom))),
  );
  if (away <= extent) return [];
  const message = `the path reaches to ${Math.round(away)} px from the calibrated points, which span ${Math.round(extent)} px only: the plane map is carried far beyond them. Calibrate with points, or a grid, along the path`;
  return [{ code: "beyond-calibrated-points", message }];
}
