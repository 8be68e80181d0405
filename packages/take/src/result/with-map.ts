import { mapArrays } from "../files/map-files.js";
import type { ArrivalPicture, TakeResult } from "../types.js";

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
  if (!picture) return result;
  const said = picture.metresPerPixel === null ? [...warnings, withoutSpeeds] : warnings;
  return { ...rest, map: mapRecord(picture), warnings: said } as TakeResult;
}

const withoutSpeeds = {
  code: "map-without-speeds",
  message:
    "the arrival map has times, and no local speeds and directions: with a plane map or a lens its cells have no one scale",
};

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
