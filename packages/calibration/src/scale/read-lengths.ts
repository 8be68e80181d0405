import { CalibrationError } from "../calibration-error.js";
import type { Known, Point } from "../types.js";

/** A known length between two points of the picture. */
export interface MeasuredLength {
  /** m */
  readonly length: Known;
  readonly between: readonly [Point, Point];
}

/** What one length says. */
export interface LengthReading {
  readonly metresPerPixel: number;
  /** Of pointing at its two ends, relative. */
  readonly pointing: number;
  /** Of the length, relative; null where it was not stated. */
  readonly standard: number | null;
}

/** @param pointingPixels  one standard uncertainty of a coordinate, px
 *  @throws CalibrationError `too-few-points`, `coincident-points`, `invalid-value` */
export function readLengths(lengths: readonly MeasuredLength[], pointingPixels: number): LengthReading[] {
  if (lengths.length === 0)
    throw new CalibrationError(
      "too-few-points",
      "no length is given: give two points and the length between them",
    );
  return lengths.map(({ length, between: [a, b] }, k) => {
    const pixels = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (![...a, ...b].every(Number.isFinite) || !(length.value > 0))
      throw new CalibrationError(
        "invalid-value",
        `length ${k + 1} must be > 0 between finite points, got ${length.value} m between ${a} and ${b}`,
      );
    if (!(pixels >= 1))
      throw new CalibrationError(
        "coincident-points",
        `the points of length ${k + 1}, ${a} and ${b}, are less than 1 px apart: mark its two ends`,
      );
    const { value, standardUncertainty } = length;
    return {
      metresPerPixel: value / pixels,
      pointing: (Math.SQRT2 * pointingPixels) / pixels,
      standard: standardUncertainty === undefined ? null : standardUncertainty / value,
    };
  });
}
