import type { Streak } from "@frontpace/tracker";
import type { Settings } from "../settings/settle.js";
import type { TakeWarning } from "../types.js";
import type { FramesUsed } from "./take-as-used.js";

/** Said where the band that was averaged is not the one asked for. */
export function widthAdjusted(
  { width }: Settings,
  { rows, columns }: FramesUsed,
  { path, width: averaged }: Streak,
): TakeWarning[] {
  if (width === null || Math.abs(averaged - width) <= 1) return [];
  const [[x1, y1], [x2, y2]] = path;
  const whole =
    (y1 === y2 && averaged === rows && "rows") || (x1 === x2 && averaged === columns && "columns");
  const message = whole
    ? `a width of ${width} px was asked for, but the picture has ${averaged} ${whole} across the path: all of them were averaged`
    : `a width of ${width} px was asked for, but the band reaches beyond the picture: ${averaged} px were averaged; give a path, and a width that stays inside the picture on both sides of it`;
  return [{ code: "width-adjusted", message }];
}
