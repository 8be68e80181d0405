import { checkCurve, checkLine, checkPoint, type PictureLine, type StreakPoint } from "./streak-picture.js";

/** The front's position in one frame and how far it lies from the line. */
export interface FitPoint extends StreakPoint {
  /** Position minus line, px. */
  readonly residualPixels: number;
}

/** What `drawFit` draws. */
export interface FitPicture {
  /** At least one. */
  readonly points: readonly FitPoint[];
  readonly line: PictureLine;
  /** Course of the model that was fitted in place of the line: at least two points, frame numbers increasing. Default: the line. */
  readonly curve?: readonly { readonly frame: number; readonly positionPixels: number }[];
  /** Frames per second, > 0; with it a time scale is drawn. */
  readonly rateHz?: number;
  /** > 0; with it scales in metres, or a thousandth or millionth of it, are drawn on the right. */
  readonly metresPerPixel?: number;
  /** What was fitted, in words. Default: fitted line. */
  readonly fitted?: string;
  readonly title: string;
  readonly subtitle?: string;
}

/** Checks a picture before anything is drawn.
 *  @throws RangeError naming argument, rule and value
 */
export function checkFitPicture(picture: FitPicture): void {
  const { points, line } = picture;
  if (points.length === 0) throw new RangeError("points must hold at least one point, got 0");
  for (const [i, point] of points.entries()) {
    checkPoint(point, i);
    if (point.used && !Number.isFinite(point.residualPixels)) {
      throw new RangeError(
        `points[${i}].residualPixels must be finite where used, got ${point.residualPixels}`,
      );
    }
  }
  checkLine(line);
  if (picture.curve) checkCurve(picture.curve);
  for (const key of ["rateHz", "metresPerPixel"] as const) {
    const value = picture[key];
    if (value !== undefined && !(Number.isFinite(value) && value > 0)) {
      throw new RangeError(`${key} must be finite and > 0, got ${value}`);
    }
  }
}
