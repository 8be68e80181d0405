import { svgElement } from "./svg.js";

/** A line in a colour on a rim, so that it shows on bright and dark alike.
 *  @param width  of the line within the rim, px
 *  @param rim  black where nothing else is said */
export function twoTone(d: string, colour: string, dashed: boolean, width = 1.5, rim = "#000000"): string {
  const dash = dashed ? `${6 * width} ${(14 / 3) * width}` : undefined;
  const common = { d, fill: "none", "stroke-dasharray": dash };
  return (
    svgElement("path", {
      ...common,
      stroke: rim,
      "stroke-width": (3.4 / 1.5) * width,
      "stroke-opacity": 0.75,
    }) + svgElement("path", { ...common, stroke: colour, "stroke-width": width })
  );
}
