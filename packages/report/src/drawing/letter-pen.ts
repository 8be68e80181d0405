import { escapeXml, svgElement } from "./svg.js";
import { INK, type TextPen } from "./text-pen.js";

/** Mean advance of a sans-serif letter in units of its size, on the wide side: the reader's font is not known. */
const LETTER_ADVANCE = 0.57;

/** Text as `<text>` in the reader's own sans-serif font. */
export const letterPen: TextPen = {
  width: (text, size) => [...text].length * size * LETTER_ADVANCE,
  draw: (text, { x, y, size, anchor = "start", turnDegrees = 0, fill = INK }) =>
    svgElement(
      "text",
      {
        x,
        y,
        "font-size": size,
        "text-anchor": anchor === "start" ? undefined : anchor,
        fill,
        transform: turnDegrees === 0 ? undefined : `rotate(${turnDegrees} ${x} ${y})`,
      },
      escapeXml(text),
    ),
};
