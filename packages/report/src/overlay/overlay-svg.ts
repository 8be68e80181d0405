import { svgElement, svgNumber } from "../drawing/svg.js";
import type { TextPen } from "../drawing/text-pen.js";
import { twoTone } from "../drawing/two-tone.js";
import { frontOutline } from "./front-outline.js";
import { LINE_HEIGHT } from "./overlay-layout.js";
import type { OverlayPlan, PlannedFrame } from "./overlay-plan.js";

/** What is drawn over one frame, on nothing. */
export function overlaySvg(
  { width, height, textSize, lineWidth }: OverlayPlan,
  { marks, text, bar, numbers }: PlannedFrame,
  colour: string,
  scale: number,
  pen: TextPen,
): string {
  const rim = rimFor(colour);
  const line = (words: string, left: number, top: number) =>
    rimmed(words, left, top + 0.95 * textSize, textSize, colour, rim, pen);
  const parts = marks.map(({ place, isDashed }) =>
    twoTone(frontOutline(place, { rows: height, columns: width }), colour, isDashed, lineWidth, rim),
  );
  if (text)
    parts.push(
      ...text.lines.map((words, k) => line(words, text.box.left, text.box.top + k * LINE_HEIGHT * textSize)),
    );
  if (bar) {
    const { box, bar: length } = bar;
    const wide = length.pixels * scale;
    const middle = box.left + box.width / 2;
    const [tick, below] = [0.25 * textSize, box.top + box.height - 0.25 * textSize];
    const [from, to] = [middle - wide / 2, middle + wide / 2];
    const d = `M${svgNumber(from)} ${svgNumber(below - tick)}v${svgNumber(2 * tick)}m0 ${svgNumber(-tick)}H${svgNumber(to)}m0 ${svgNumber(-tick)}v${svgNumber(2 * tick)}`;
    parts.push(twoTone(d, colour, false, Math.max(1, 0.09 * textSize), rim));
    parts.push(line(length.text, middle - pen.width(length.text, textSize) / 2, box.top));
  }
  parts.push(...numbers.map(({ box, text: words }) => line(words, box.left, box.top)));
  return svgElement("svg", { xmlns: "http://www.w3.org/2000/svg", width, height }, ...parts);
}

/** Text on a rim. */
function rimmed(
  text: string,
  x: number,
  y: number,
  size: number,
  colour: string,
  rim: string,
  pen: TextPen,
): string {
  const about = svgElement(
    "g",
    {
      stroke: rim,
      "stroke-width": Math.max(2.4, 0.2 * size),
      "stroke-linejoin": "round",
      "stroke-opacity": 0.85,
    },
    pen.draw(text, { x, y, size, fill: rim }),
  );
  return about + pen.draw(text, { x, y, size, fill: colour });
}

/** Black about bright colours, white about dark ones: relative luminance of sRGB against the middle between black and white in
 *  contrast (WCAG 2, from memory). */
function rimFor(colour: string): string {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b > 0.179 ? "#000000" : "#ffffff";
}
