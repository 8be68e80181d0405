import { drawOnStill, GROUND } from "../drawing/draw-on-still.js";
import type { LegendEntry } from "../drawing/legend.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { twoTone } from "../drawing/two-tone.js";
import { checkFoundPoints, type FoundPointsPicture } from "./found-points-picture.js";

const COLOURS = { point: "#4fd8ff", first: "#ffb000", line: "#4fd8ff" };
const CIRCLE = "M-6 0a6 6 0 1 0 12 0a6 6 0 1 0 -12 0";

/** Draws a still with the points that a calibration goes by: a circle about each, the first one marked, and lines that
 *  show in which order they were read.
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where samples, shape and points do not fit together; nothing is drawn then */
export async function drawFoundPoints(picture: FoundPointsPicture): Promise<Uint8Array> {
  checkFoundPoints(picture);
  const { data, shape, title } = picture;
  return drawOnStill({
    data,
    shape,
    title,
    legend: entriesOf(picture),
    marks: (scale) => drawMarks(picture, scale),
  });
}

/** The marks over the still, px of the enlarged picture. */
export function drawMarks(
  { points, joined }: Pick<FoundPointsPicture, "points" | "joined">,
  scale: number,
): string {
  const placed = points.map(([x, y]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const);
  const at = ([x, y]: readonly [number, number]) => `${svgNumber(x)} ${svgNumber(y)}`;
  const lines =
    joined === "pairs"
      ? placed.map((point, k) => `${k % 2 === 0 ? "M" : "L"}${at(point)}`).join("")
      : `M${placed.map(at).join("L")}`;
  // The first comes last: where lengths share a point it stays to be seen.
  const circles = placed
    .map((point, k) =>
      svgElement(
        "g",
        { transform: `translate(${at(point)})`, class: k === 0 ? "first" : "point" },
        twoTone(CIRCLE, k === 0 ? COLOURS.first : COLOURS.point, false),
      ),
    )
    .reverse();
  return (
    svgElement("path", {
      d: points.length === 0 ? "" : lines,
      fill: "none",
      stroke: COLOURS.line,
      "stroke-width": 1,
      "stroke-opacity": joined === "pairs" ? 0.9 : 0.45,
    }) + circles.join("")
  );
}

function entriesOf({ points, joined }: FoundPointsPicture): LegendEntry[] {
  const circle = (colour: string) => GROUND + twoTone(CIRCLE, colour, false);
  return [
    { symbol: circle(COLOURS.first), text: joined === "pairs" ? "first end" : "first point: the origin" },
    {
      symbol: circle(COLOURS.point),
      text: `${points.length} points in all, joined ${joined === "pairs" ? "where a length was stated" : "in the order in which they were read"}`,
    },
  ];
}
