import type { TipRow } from "../types.js";
import { csvText } from "./csv-text.js";

export const TIP_COLUMNS = [
  "branch",
  "frame",
  "time_s",
  "x_px",
  "y_px",
  "length_px",
  "length_m",
  "u_length_px",
  "residual_px",
  "used",
] as const;

/** The tips of cracks as text: one row a tip and frame, comma-separated with CRLF (RFC 4180). */
export function tipsCsv(rows: readonly TipRow[]): string {
  return csvText(
    TIP_COLUMNS.join(","),
    rows.map((row) => [
      row.branch,
      row.frame,
      row.timeSeconds,
      row.x,
      row.y,
      row.lengthPixels,
      row.lengthMetres,
      row.standardUncertaintyPixels,
      row.residualPixels,
      row.used,
    ]),
  );
}
