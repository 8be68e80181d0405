import { brightnessRange } from "./brightness-range.js";
import { drawLegend, LEGEND_ROW_HEIGHT, type LegendEntry } from "./legend.js";
import { loadOutlinePen } from "./outline-pen.js";
import { svgElement } from "./svg.js";
import { fitText, INK, type TextPen } from "./text-pen.js";

const MARGIN = 24;
const TITLE_BASE_LINE = 34;
/** Smaller stills are enlarged, every pixel to a square, until they are about this wide, px. */
const WANTED_WIDTH = 1000;
const LARGEST = 6;

/** A still, and what is drawn over it. */
export interface MarkedStill {
  /** Brightness, row-major (rows, columns). */
  readonly data: Float64Array | Float32Array;
  /** [rows, columns], each >= 1. */
  readonly shape: readonly [number, number];
  readonly title: string;
  readonly legend: readonly LegendEntry[];
  /** Marks over the still as SVG; px of the enlarged picture, in which a pixel of the still is `scale` wide. */
  marks(scale: number, pen: TextPen): string;
}

/** Grey behind a symbol of the legend, as the still is behind the marks. */
export const GROUND = svgElement("rect", { x: -15, y: -8, width: 30, height: 16, fill: "#8a8a8a" });

/** Checks the samples of a still before anything is drawn.
 *  @throws RangeError naming argument, rule and value */
export function checkStill({ data, shape: [rows, columns] }: Pick<MarkedStill, "data" | "shape">): void {
  if (!(Number.isInteger(rows) && Number.isInteger(columns) && rows >= 1 && columns >= 1))
    throw new RangeError(`shape must hold whole numbers >= 1, got [${rows}, ${columns}]`);
  if (data.length !== rows * columns)
    throw new RangeError(`data must hold rows x columns = ${rows * columns} values, got ${data.length}`);
}

/** Draws marks over a still, with a title and a legend above.
 *  @returns a PNG file, 8-bit RGB */
export async function drawOnStill(still: MarkedStill): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  const pen = await loadOutlinePen();
  const {
    shape: [rows, columns],
    title,
  } = still;
  const scale = Math.max(1, Math.min(LARGEST, Math.floor(WANTED_WIDTH / columns)));
  const [width, height] = [columns * scale, rows * scale];
  const legend = drawLegend(still.legend, pen, width);
  const top = TITLE_BASE_LINE + 24 + legend.rows * LEGEND_ROW_HEIGHT;
  const size = { width: width + 2 * MARGIN, height: top + height + MARGIN };
  const svg = svgElement(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", ...size, viewBox: `0 0 ${size.width} ${size.height}` },
    pen.draw(fitText(pen, title, 19, width), { x: MARGIN, y: TITLE_BASE_LINE, size: 19, fill: INK }),
    svgElement("g", { transform: `translate(${MARGIN} ${TITLE_BASE_LINE + 24})` }, legend.svg),
    svgElement("svg", { x: MARGIN, y: top, width, height }, still.marks(scale, pen)),
  );
  const png = await sharp({
    create: { width: size.width, height: size.height, channels: 3, background: "#ffffff" },
  })
    .composite([
      {
        input: Buffer.from(greysOf(still, scale).buffer),
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

function greysOf({ data, shape: [rows, columns] }: MarkedStill, scale: number): Uint8Array {
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
