import { TakeError } from "../take-error.js";

/** A part of a sensor, as frames show it. */
export interface SensorPart {
  readonly columns: number;
  readonly rows: number;
  readonly sensorOffset: readonly [number, number];
  readonly binning: number;
}

/** Checks that frames lie on their sensor: from 0, and, where its size is known, to no more than that.
 *  @param what  the frames, in the plural
 *  @throws TakeError `sensor-exceeded` */
export function checkSensor(
  { columns, rows, sensorOffset: [x, y], binning }: SensorPart,
  sensor: { readonly columns: number; readonly rows: number } | undefined,
  what: string,
): void {
  const refuse = (message: string) =>
    new TakeError("sensor-exceeded", message, { key: "sensorOffset", value: [x, y] });
  if (!(x >= 0 && y >= 0))
    throw refuse(
      `sensorOffset counts from the sensor's top left pixel, 0,0, and must be >= 0, got ${x},${y}`,
    );
  if (!sensor) return;
  const [right, bottom] = [x + columns * binning, y + rows * binning];
  if (right <= sensor.columns && bottom <= sensor.rows) return;
  throw refuse(
    `${what} of ${columns} x ${rows} px from sensor pixel ${x},${y} on, binned ${binning} to one, reach to ${right},${bottom}, and the sensor has ${sensor.columns} x ${sensor.rows}: correct the offset, the binning or the size of the sensor`,
  );
}
