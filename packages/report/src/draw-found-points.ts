import { brightnessRange } from "./brightness-range.js";
import { checkFoundPoints, type FoundPointsPicture } from "./found-points-picture.js";
import { drawLegend, LEGEND_ROW_HEIGHT, type LegendEntry } from "./legend.js";
import { loadOutlinePen } from "./outline-pen.js";
import { svgElement, svgNumber } from "./svg.js";
import { fitText, INK } from "./text-pen.js";
import { twoTone } from "./two-tone.js";

const MARGIN = 24;
const TITLE_BASE_LINE = 34;
/** Smaller stills are enlarged, every pixel to a square, until they are about this wide, px. */
const WANTED_WIDTH = 1000;
const LARGEST = 6;
const COLOURS = { point: "#4fd8ff", first: "#ffb000", line: "#4fd8ff" };
const CIRCLE = "M-6 0a6 6 0 1 0 12 0a6 6 0 1 0 -12 0";
const GROUND = svgElement("rect", { x: -15, y: -8, width: 30, height: 16, fill: "#8a8a8a" });

/** Draws a still with the points that a calibration goes by: a circle about each, the first one marked, and lines that
 *  show in which order they were read.
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where samples, shape and points do not fit together; nothing is drawn then */
export async function drawFoundPoints(picture: FoundPointsPicture): Promise<Uint8Array> {
  checkFoundPoints(picture);
  const { default: sharp } = await import("sharp");
  const pen = await loadOutlinePen();
  const {
    shape: [rows, columns],
    title,
  } = picture;
  const scale = Math.max(1, Math.min(LARGEST, Math.floor(WANTED_WIDTH / columns)));
  const [width, height] = [columns * scale, rows * scale];
  const legend = drawLegend(entriesOf(picture), pen, width);
  const top = TITLE_BASE_LINE + 24 + legend.rows * LEGEND_ROW_HEIGHT;
  const size = { width: width + 2 * MARGIN, height: top + height + MARGIN };
  const svg = svgElement(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", ...size, viewBox: `0 0 ${size.width} ${size.height}` },
    pen.draw(fitText(pen, title, 19, width), { x: MARGIN, y: TITLE_BASE_LINE, size: 19, fill: INK }),
    svgElement("g", { transform: `translate(${MARGIN} ${TITLE_BASE_LINE + 24})` }, legend.svg),
    svgElement("svg", { x: MARGIN, y: top, width, height }, drawMarks(picture, scale)),
  );
  const png = await sharp({
    create: { width: size.width, height: size.height, channels: 3, background: "#ffffff" },
  })
    .composite([
      {
        input: Buffer.from(greysOf(picture, scale).buffer),
        raw: { width, height, channels: 3 },
        left: MARGIN,
        top,
      },
      { input: Buffer.from(svg), left: 0, top: 0 },
    ])
    .png({ compressionLevel: 9 })
    .toBuffer();
  return new Uint8Array(png);
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

function greysOf({ data, shape: [rows, columns] }: FoundPointsPicture, scale: number): Uint8Array {
  const range = brightnessRange(data, [rows, columns]) ?? { low: 0, high: 1 };
  const span = range.high > range.low ? range.high - range.low : 1;
  const rgb = new Uint8Array(3 * rows * columns * scale * scale);
  for (let y = 0, i = 0; y < rows * scale; y++)
    for (let x = 0; x < columns * scale; x++, i += 3) {
      const value = data[Math.floor(y / scale) * columns + Math.floor(x / scale)];
      rgb.fill(Math.round(255 * Math.min(1, Math.max(0, (value - range.low) / span))), i, i + 3);
    }
  return rgb;
}
