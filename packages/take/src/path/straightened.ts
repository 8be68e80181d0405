import type { Point } from "@frontpace/calibration";
import type { CalibrationInUse } from "../settings/settle.js";
import { calibratedPath } from "./calibrated-path.js";

/** Positions along a path as they would be seen square on, in px of the mean scale along it: what a front at constant
 *  speed crosses evenly.
 *  @returns position seen square on, by position in the picture, px */
export function straightened(
  calibration: CalibrationInUse,
  path: readonly [Point, Point],
): (pixels: number) => number {
  const { lengths, metresPerPixel } = calibratedPath(calibration, path);
  return lengths ? (pixels) => lengths.metresAt(pixels) / metresPerPixel.value : (pixels) => pixels;
}
