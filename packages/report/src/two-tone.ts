import { svgElement } from "./svg.js";

/** A line in a colour on a black rim, so that it shows on bright and dark alike. */
export function twoTone(d: string, colour: string, dashed: boolean): string {
  const dash = dashed ? "9 7" : undefined;
  const common = { d, fill: "none", "stroke-dasharray": dash };
  return (
    svgElement("path", { ...common, stroke: "#000000", "stroke-width": 3.4, "stroke-opacity": 0.75 }) +
    svgElement("path", { ...common, stroke: colour, "stroke-width": 1.5 })
  );
}
