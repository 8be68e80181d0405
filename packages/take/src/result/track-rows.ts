import type { TrackOutcome } from "@frontpace/tracker";
import type { CalibratedPath } from "../path/calibrated-path.js";
import type { Settings } from "../settings/settle.js";
import type { TrackRow } from "../types.js";

/** The rows of track.csv; none where the front was not followed.
 *  @param lengths  along the path, of a plane map or a sphere; null: metres are px times the scale */
export function trackRows(
  outcome: TrackOutcome,
  settings: Settings,
  lengths: Pick<NonNullable<CalibratedPath["lengths"]>, "metresAt"> | null,
): readonly TrackRow[] {
  if (outcome.status !== "tracked") return [];
  const metresAt = lengths?.metresAt ?? ((pixels: number) => pixels * settings.metresPerPixel.value);
  return outcome.track.positions.map((position) => ({
    frame: position.frame,
    ...(position.timeFrames !== undefined && { timeFrames: position.timeFrames }),
    timeSeconds: (position.timeFrames ?? position.frame) / settings.rateHz.value,
    positionPixels: position.positionPixels,
    positionMetres: metresAt(position.positionPixels),
    standardUncertaintyPixels: position.standardUncertaintyPixels,
    residualPixels: position.residualPixels,
    used: position.used,
  }));
}
