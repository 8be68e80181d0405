import { svgNumber } from "../drawing/svg.js";
import { frontOutline, type PictureSize } from "../overlay/front-outline.js";
import type { ReportedFrontPlace } from "../words/reported-result.js";
import { html, type Markup } from "./html.js";

/** A front in a frame, on a dark rim, so that it shows on bright and dark alike; its number beside it.
 *  @param size  of the number, px of the frame */
export function drawFrontPlace(place: ReportedFrontPlace, size: number, frame: PictureSize): Markup {
  const d = frontOutline(place, frame);
  return html`<path class="rim" d="${d}"/><path class="front" d="${d}"/>${place.number !== undefined && drawNumber(place, size, frame)}`;
}

function drawNumber(
  { points = [], centre, number }: ReportedFrontPlace,
  size: number,
  { columns }: PictureSize,
): Markup {
  const [x, y] = centre ?? points[0];
  const left = Math.min(columns - size, x + 0.5 * size);
  return html`<text class="number" x="${svgNumber(left)}" y="${svgNumber(Math.max(size, y - 0.3 * size))}" font-size="${svgNumber(size)}">${number}</text>`;
}
