import { TakeError } from "../take-error.js";
import type { TakeFrames } from "../types.js";
import { checkSensor } from "./check-sensor.js";
import type { CalibrationInUse } from "./settle.js";

/** Checks that a calibration may be applied to a take.
 *  @throws TakeError `calibration-other-size`, `sensor-exceeded`, `calibration-other-medium` */
export function checkCalibration(
  { scale, sensorOffset, binning, medium }: CalibrationInUse,
  { rows, columns }: Pick<TakeFrames, "rows" | "columns">,
): void {
  const isPlaced = scale.planeMap !== undefined || scale.lens !== undefined;
  if (isPlaced && sensorOffset === null && (rows !== scale.rows || columns !== scale.columns)) {
    const what = scale.planeMap ? "plane map" : "lens";
    const message = `the calibration holds a ${what} of a picture of ${scale.columns} x ${scale.rows} px, and the take has ${columns} x ${rows}: state where on the sensor the take lies, its top left pixel, with --sensor-offset or as sensorOffset [column, row] in take.json`;
    throw new TakeError("calibration-other-size", message, { key: "calibration" });
  }
  if (isPlaced || sensorOffset !== null)
    checkSensor(
      {
        columns,
        rows,
        sensorOffset: sensorOffset ?? scale.sensorOffset,
        binning: binning ?? scale.binning,
      },
      scale.sensor,
      "the frames",
    );
  if (medium !== scale.medium) {
    const message = `the calibration holds in ${scale.medium}, and the event runs in ${medium}: calibrate again with --medium ${medium}, or correct the medium of the take`;
    throw new TakeError("calibration-other-medium", message, { key: "calibration", value: medium });
  }
}
