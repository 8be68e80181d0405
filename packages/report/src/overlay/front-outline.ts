import { svgNumber } from "../drawing/svg.js";
import type { ReportedFrontPlace } from "../words/reported-result.js";

/** Size of a picture, px. */
export interface PictureSize {
  readonly rows: number;
  readonly columns: number;
}

/** Radius of the ring about a tip, which stays to be seen in it, px. */
export function ringRadius({ rows, columns }: PictureSize): number {
  return Math.max(3, Math.min(rows, columns) / 28);
}

/** A front as the data of an SVG path: a line, a circle, a ring about a tip. */
export function frontOutline(
  { kind, points = [], centre, radius }: ReportedFrontPlace,
  picture: PictureSize,
): string {
  if (kind === "line") return `M${points.map(([x, y]) => `${svgNumber(x)} ${svgNumber(y)}`).join("L")}`;
  const [x, y] = centre ?? points[0];
  const r = Number(svgNumber(radius ?? ringRadius(picture)));
  return `M${svgNumber(x - r)} ${svgNumber(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
}
