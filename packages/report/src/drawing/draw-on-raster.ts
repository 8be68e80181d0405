import { drawnPng } from "./drawn-png.js";
import { drawLegend, LEGEND_ROW_HEIGHT, type LegendEntry } from "./legend.js";
import { loadOutlinePen } from "./outline-pen.js";
import { svgElement } from "./svg.js";
import { fitText, INK, type TextPen } from "./text-pen.js";

const MARGIN = 24;
const TITLE_BASE_LINE = 34;
/** Smaller stills are enlarged, every pixel to a square, until they are about this wide, px. */
const WANTED_WIDTH = 1000;
const LARGEST = 6;

/** Pixels, and what is drawn over and round them. */
export interface MarkedRaster {
  /** Row-major RGB, 8 bits. */
  readonly rgb: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly legend: readonly LegendEntry[];
  /** Room for title and legend, px, where the pixels are narrower. Default: none. */
  readonly leastWidth?: number;
  /** Marks over the pixels as SVG. */
  marks(pen: TextPen): string;
  /** What stands below them, drawn from (0, 0) down. Default: nothing. */
  readonly below?: { readonly height: number; draw(pen: TextPen, width: number): string };
}

/** How many times a picture of so many columns is enlarged. */
export function enlargement(columns: number): number {
  return Math.max(1, Math.min(LARGEST, Math.floor(WANTED_WIDTH / columns)));
}

/** Draws pixels with marks over them, a title and a legend above.
 *  @returns a PNG file, 8-bit RGB */
export async function drawOnRaster(raster: MarkedRaster): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  const pen = await loadOutlinePen();
  const { rgb, width, height, title, leastWidth = 0, below } = raster;
  const inner = Math.max(width, leastWidth);
  const legend = drawLegend(raster.legend, pen, inner);
  const top = TITLE_BASE_LINE + 24 + legend.rows * LEGEND_ROW_HEIGHT;
  const size = { width: inner + 2 * MARGIN, height: top + height + (below?.height ?? 0) + MARGIN };
  const svg = svgElement(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", ...size, viewBox: `0 0 ${size.width} ${size.height}` },
    pen.draw(fitText(pen, title, 19, inner), { x: MARGIN, y: TITLE_BASE_LINE, size: 19, fill: INK }),
    svgElement("g", { transform: `translate(${MARGIN} ${TITLE_BASE_LINE + 24})` }, legend.svg),
    svgElement("svg", { x: MARGIN, y: top, width, height }, raster.marks(pen)),
    below
      ? svgElement("g", { transform: `translate(${MARGIN} ${top + height})` }, below.draw(pen, inner))
      : "",
  );
  const picture = sharp({
    create: { width: size.width, height: size.height, channels: 3, background: "#ffffff" },
  }).composite([
    { input: Buffer.from(rgb.buffer), raw: { width, height, channels: 3 }, left: MARGIN, top },
    { input: Buffer.from(svg), left: 0, top: 0 },
  ]);
  return drawnPng(picture);
}
