import type { Point } from "@frontpace/calibration";
import { TakeError } from "../take-error.js";
import type { CalibrationStill } from "./read-stills.js";

/** Checks that no still is given twice: a copy repeats nothing.
 *  @throws TakeError `same-still` */
export function checkDistinct(stills: readonly CalibrationStill[]): void {
  stills.forEach((still, k) => {
    const earlier = stills
      .slice(0, k)
      .find(({ data }) => data.every((value, at) => value === still.data[at]));
    if (!earlier) return;
    const message = `${earlier.name} and ${still.name} hold the same picture, sample for sample: give each still once, a copy adds no knowledge of scale or lens`;
    throw new TakeError("same-still", message, { key: "stills", file: still.name });
  });
}

/** Checks that points marked by hand lie in the picture.
 *  @throws TakeError `point-outside` */
export function checkInside({ name, columns, rows }: CalibrationStill, points: readonly Point[]): void {
  for (const [x, y] of points) {
    if (x >= -0.5 && x <= columns - 0.5 && y >= -0.5 && y <= rows - 0.5) continue;
    const message = `the point ${x},${y} lies outside ${name}, which is ${columns} x ${rows} px: x runs from 0 to ${columns - 1}, y from 0 to ${rows - 1}`;
    throw new TakeError("point-outside", message, { key: "standard", value: [x, y] });
  }
}
