import { mapArrays } from "./map-files.js";
import type { ArrivalPicture, TakeResult } from "./types.js";

/** The result with the arrival map that goes with it, or the warning that the one asked for could not be made. */
export function withMap(
  result: TakeResult,
  picture: ArrivalPicture | null,
  refused: string | null,
): TakeResult {
  const { warnings, ...rest } = result;
  if (refused !== null) {
    const message = `an arrival map was asked for, but ${refused}`;
    return { ...rest, warnings: [...warnings, { code: "no-map", message }] } as TakeResult;
  }
  return picture ? ({ ...rest, map: mapRecord(picture), warnings } as TakeResult) : result;
}

function mapRecord({ map, metresPerPixel, still }: ArrivalPicture): NonNullable<TakeResult["map"]> {
  return {
    cell: map.cell,
    rows: map.rows,
    columns: map.columns,
    cellsWithArrival: map.arrival.reduce((count, time) => count + (Number.isNaN(time) ? 0 : 1), 0),
    kind: map.kind,
    metresPerPixel,
    stillFrame: still.frame,
    arrays: mapArrays(metresPerPixel !== null).map((array) => ({ ...array })),
  };
}
