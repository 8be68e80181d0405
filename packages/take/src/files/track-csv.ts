import type { TrackRow } from "../types.js";
import { csvText } from "./csv-text.js";

/** The track as text: one row a frame, comma-separated with CRLF (RFC 4180). */
export function trackCsv(rows: readonly TrackRow[]): string {
  return csvText(
    "frame,time_s,position_px,position_m,u_position_px,residual_px,used",
    rows.map((row) => [
      row.frame,
      row.timeSeconds,
      row.positionPixels,
      row.positionMetres,
      row.standardUncertaintyPixels,
      row.residualPixels,
      row.used,
    ]),
  );
}
