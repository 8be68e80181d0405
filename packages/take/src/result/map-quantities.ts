import type { ArrivalPicture, MapQuantities } from "../types.js";

/** Nearer to the origin of a circle than this, px, blur bends the times, and nearer than so many cells a plane lies over its tip. */
const BLURRED = 8;
const TIP_CELLS = 4;

/** What an arrival map says of every cell, in SI units.
 *  @see `localMotion` of the arrival package: |grad T| = 1/speed, the eikonal equation */
export async function mapQuantities({
  map,
  rateHz,
  metresPerPixel,
  origin,
}: ArrivalPicture): Promise<MapQuantities> {
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
  const place = (k: number) => (k + 0.5) * map.cell - 0.5;
  const isAtTip = (at: number) =>
    origin !== null &&
    Math.hypot(place(at % map.columns) - origin[0], place(Math.floor(at / map.columns)) - origin[1]) <
      Math.max(BLURRED, TIP_CELLS * map.cell);
  const said = (values: Float64Array, scale: number) =>
    values.map((value, at) => (isAtTip(at) ? Number.NaN : value * scale));
  return {
    ...times,
    speed: said(speed, toSpeed),
    speedUncertainty: said(speedUncertainty, toSpeed),
    directionDegrees: said(angle, 1),
  };
}
