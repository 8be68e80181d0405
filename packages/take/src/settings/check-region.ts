import type { FrameRegion } from "@frontpace/finder";
import { TakeError } from "../take-error.js";
import type { FindOptions, TakeFrames } from "../types.js";

/** Two opposite corners, both included, as a rectangle inside the picture.
 *  @throws TakeError `region-outside` */
export function checkRegion(
  region: NonNullable<FindOptions["region"]>,
  { rows, columns }: Pick<TakeFrames, "rows" | "columns">,
  key: "region" | "lamp" = "region",
): FrameRegion {
  const [[x1, y1], [x2, y2]] = region;
  for (const [x, y] of region) {
    if (x >= 0 && x < columns && y >= 0 && y < rows) continue;
    const message = `${key} must lie inside the picture, x from 0 to ${columns - 1} and y from 0 to ${rows - 1}, got the corner ${x},${y}`;
    throw new TakeError("region-outside", message, { key, value: region });
  }
  return {
    row: Math.min(y1, y2),
    column: Math.min(x1, x2),
    rows: Math.abs(y2 - y1) + 1,
    columns: Math.abs(x2 - x1) + 1,
  };
}
