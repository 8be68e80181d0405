import { svgElement, svgNumber } from "./svg.js";
import type { TextPen } from "./text-pen.js";

/** One entry of a legend. */
export interface LegendEntry {
  /** SVG of the symbol, drawn about (0, 0), within 15 px left and right and 7 px up and down. */
  readonly symbol: string;
  readonly text: string;
}

const TEXT_SIZE = 13;
const SYMBOL_WIDTH = 30;
const GAP = 22;
export const LEGEND_ROW_HEIGHT = 20;

/** Sets the entries in rows that are not wider than `maximumWidth`, first row centred on y = 0.
 *  @returns the SVG and the number of rows
 */
export function drawLegend(
  entries: readonly LegendEntry[],
  pen: TextPen,
  maximumWidth: number,
): { svg: string; rows: number } {
  let svg = "";
  let x = 0;
  let row = 0;
  for (const { symbol, text } of entries) {
    const width = SYMBOL_WIDTH + 7 + pen.width(text, TEXT_SIZE);
    if (x > 0 && x + width > maximumWidth) {
      x = 0;
      row++;
    }
    const y = row * LEGEND_ROW_HEIGHT;
    const place = `translate(${svgNumber(x + SYMBOL_WIDTH / 2)} ${y})`;
    svg += svgElement("g", { transform: place }, symbol);
    svg += pen.draw(text, { x: x + SYMBOL_WIDTH + 7, y: y + 0.36 * TEXT_SIZE, size: TEXT_SIZE });
    x += width + GAP;
  }
  return { svg: svgElement("g", { class: "legend" }, svg), rows: entries.length === 0 ? 0 : row + 1 };
}
