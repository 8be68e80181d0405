import type { Point } from "../types.js";

/** Which part of the sensor a picture shows. */
export interface SensorWindow {
  /** Sensor pixel in the top left corner of the picture, [column, row]. */
  readonly sensorOffset: Point;
  /** Sensor pixels to one of the picture, in either direction, >= 1. */
  readonly binning: number;
}

/** The place in another picture of the same sensor that shows what `point` shows here, px. Whole numbers are pixel
 *  centres, so that the corner of a binned pixel, not its centre, stays in place. */
export function betweenWindows(from: SensorWindow, to: SensorWindow, [x, y]: Point): Point {
  const along = (value: number, k: 0 | 1) => {
    const sensor = from.sensorOffset[k] + from.binning * (value + 0.5);
    return (sensor - to.sensorOffset[k]) / to.binning - 0.5;
  };
  return [along(x, 0), along(y, 1)];
}
