import type { ArrivalPicture, MapQuantities } from "./types.js";

/** What an arrival map says of every cell, in SI units.
 *  @see `localMotion` of the arrival package: |grad T| = 1/speed, the eikonal equation */
export async function mapQuantities({ map, rateHz, metresPerPixel }: ArrivalPicture): Promise<MapQuantities> {
  const shape = [map.rows, map.columns] as const;
  const seconds = (frames: Float64Array) => frames.map((value) => value / rateHz);
  const times = {
    shape,
    arrivalSeconds: seconds(map.arrival),
    arrivalUncertaintySeconds: seconds(map.standardUncertainty),
  };
  if (metresPerPixel === null)
    return { ...times, speed: null, speedUncertainty: null, directionDegrees: null };
  const { localMotion } = await import("@frontpace/arrival");
  const { speed, speedUncertainty, angle } = localMotion(map);
  const toSpeed = metresPerPixel * rateHz;
  return {
    ...times,
    speed: speed.map((value) => value * toSpeed),
    speedUncertainty: speedUncertainty.map((value) => value * toSpeed),
    directionDegrees: angle,
  };
}
