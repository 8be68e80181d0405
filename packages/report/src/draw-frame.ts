import { drawLegend, LEGEND_ROW_HEIGHT, type LegendEntry } from "./legend.js";
import { letterPen } from "./letter-pen.js";
import { escapeXml, svgElement, svgNumber } from "./svg.js";
import { fitText, INK } from "./text-pen.js";

export const WIDTH = 960;
export const LEFT = 92;

/** What stands above a drawing, and what is read aloud in its place. */
export interface Head {
  readonly title: string;
  readonly subtitle?: string;
  readonly description: string;
  readonly legend: readonly LegendEntry[];
  /** Where title and legend end, px. */
  readonly right: number;
}

/** An SVG document with title, description, white ground, heading and legend.
 *  @param draw  what stands below y = `top`, and the height of the whole
 *  @returns with viewBox */
export function drawFrame(
  { title, subtitle = "", description, legend: entries, right }: Head,
  draw: (top: number) => { readonly height: number; readonly content: readonly string[] },
): string {
  const inner = right - LEFT;
  const legend = drawLegend(entries, letterPen, inner);
  const legendTop = subtitle === "" ? 58 : 80;
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
    svgElement("g", { transform: `translate(${LEFT} ${legendTop})` }, legend.svg),
    ...content,
  );
}
