import { svgNumber } from "../svg.js";
import type { ReportedFrontPlace } from "../words/reported-result.js";
import { html, type Markup } from "./html.js";

/** Size of a frame, px. */
interface FrameSize {
  readonly rows: number;
  readonly columns: number;
}

/** A front in a frame, on a dark rim, so that it shows on bright and dark alike; its number beside it.
 *  @param size  of the number, px of the frame */
export function drawFrontPlace(place: ReportedFrontPlace, size: number, frame: FrameSize): Markup {
  const d = outline(place, frame);
  return html`<path class="rim" d="${d}"/><path class="front" d="${d}"/>${place.number !== undefined && drawNumber(place, size, frame)}`;
}

function drawNumber(
  { points = [], centre, number }: ReportedFrontPlace,
  size: number,
  { columns }: FrameSize,
): Markup {
  const [x, y] = centre ?? points[0];
  const left = Math.min(columns - size, x + 0.5 * size);
  return html`<text class="number" x="${svgNumber(left)}" y="${svgNumber(Math.max(size, y - 0.3 * size))}" font-size="${svgNumber(size)}">${number}</text>`;
}

function outline(
  { kind, points = [], centre, radius }: ReportedFrontPlace,
  { rows, columns }: FrameSize,
): string {
  if (kind === "line") return `M${points.map(([x, y]) => `${svgNumber(x)} ${svgNumber(y)}`).join("L")}`;
  const [x, y] = centre ?? points[0];
  const r = Number(svgNumber(radius ?? Math.max(3, Math.min(rows, columns) / 28)));
  return `M${svgNumber(x - r)} ${svgNumber(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
}
