import type { CalibratedPath } from "../path/calibrated-path.js";
import type { Settings } from "../settings/settle.js";
import type { MeasuredResult, TrackRow } from "../types.js";
import type { Motion } from "./motion-of-track.js";

/** The rows of track.csv with what was fitted, as columns for result.json.
 *  @param settings  whose scale is the mean one along the path
 *  @param lengths  of a plane map; null: metres are px times the scale */
export function trackRecord(
  rows: readonly TrackRow[],
  motion: Motion,
  { rateHz, metresPerPixel }: Pick<Settings, "rateHz" | "metresPerPixel">,
  lengths: CalibratedPath["lengths"],
): NonNullable<MeasuredResult["track"]> {
  const fitted = rows.map((row) => motion.fittedAt(row.timeSeconds * rateHz.value, row.positionPixels));
  const metres = fitted.map((pixels) => pixels * metresPerPixel.value);
  return {
    frame: rows.map(({ frame }) => frame),
    timeSeconds: rows.map(({ timeSeconds }) => timeSeconds),
    positionPixels: rows.map(({ positionPixels }) => positionPixels),
    positionMetres: rows.map(({ positionMetres }) => positionMetres),
    standardUncertaintyMetres: rows.map(
      ({ standardUncertaintyPixels }) => standardUncertaintyPixels * metresPerPixel.value,
    ),
    fittedPixels: lengths ? metres.map((value) => lengths.pixelsAt(value)) : fitted,
    fittedMetres: metres,
    residualMetres: rows.map(({ positionMetres }, k) => positionMetres - metres[k]),
    used: rows.map(({ used }) => used),
  };
}
