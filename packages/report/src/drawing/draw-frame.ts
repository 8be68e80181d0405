import { drawLegend, LEGEND_ROW_HEIGHT, type LegendEntry } from "./legend.js";
import { letterPen } from "./letter-pen.js";
import { escapeXml, svgElement, svgNumber } from "./svg.js";
import { fitText, INK } from "./text-pen.js";

export const WIDTH = 960;
export const LEFT = 92;

const NOTE_SIZE = 14;
const NOTE_HEIGHT = 20;

/** What stands above a drawing, and what is read aloud in its place. */
export interface Head {
  readonly title: string;
  readonly subtitle?: string;
  /** Said in full below them, in as many lines as it takes. */
  readonly note?: string;
  readonly description: string;
  readonly legend: readonly LegendEntry[];
  /** Where title and legend end, px. */
  readonly right: number;
}

/** An SVG document with title, description, white ground, heading and legend.
 *  @param draw  what stands below y = `top`, and the height of the whole
 *  @returns with viewBox */
export function drawFrame(
  { title, subtitle = "", note = "", description, legend: entries, right }: Head,
  draw: (top: number) => { readonly height: number; readonly content: readonly string[] },
): string {
  const inner = right - LEFT;
  const legend = drawLegend(entries, letterPen, inner);
  const noteTop = subtitle === "" ? 57 : 79;
  const notes = note === "" ? [] : linesWithin(note, inner);
  const legendTop = noteTop + 1 + notes.length * NOTE_HEIGHT;
  const { height, content } = draw(legendTop + legend.rows * LEGEND_ROW_HEIGHT + 6);
  const heading = (text: string, y: number, size: number, fill: string) =>
    letterPen.draw(fitText(letterPen, text, size, inner), { x: LEFT, y, size, fill });
  return svgElement(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: WIDTH,
      height,
      viewBox: `0 0 ${WIDTH} ${svgNumber(height)}`,
      role: "img",
      "font-family": "sans-serif",
    },
    svgElement("title", {}, escapeXml(subtitle === "" ? title : `${title}: ${subtitle}`)),
    svgElement("desc", {}, escapeXml(description)),
    svgElement("rect", { width: WIDTH, height, fill: "#ffffff" }),
    heading(title, 34, 19, INK),
    subtitle === "" ? "" : heading(subtitle, 56, 14, "#4d5966"),
    ...notes.map((text, row) =>
      letterPen.draw(text, { x: LEFT, y: noteTop + row * NOTE_HEIGHT, size: NOTE_SIZE, fill: INK }),
    ),
    svgElement("g", { transform: `translate(${LEFT} ${legendTop})` }, legend.svg),
    ...content,
  );
}

function linesWithin(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const longer = lines.length === 0 ? word : `${lines[lines.length - 1]} ${word}`;
    if (lines.length > 0 && letterPen.width(longer, NOTE_SIZE) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}
