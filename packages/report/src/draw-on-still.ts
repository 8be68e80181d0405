import { brightnessRange } from "./brightness-range.js";
import { drawOnRaster, enlargement, type MarkedRaster } from "./draw-on-raster.js";
import { svgElement } from "./svg.js";
import type { TextPen } from "./text-pen.js";

/** Darkest and brightest grey of a still that is greyed, so that what is drawn over it stands out. */
const GREYED = [96, 208] as const;
const FULL = [0, 255] as const;

/** A still, and what is drawn over it. */
export interface MarkedStill extends Pick<MarkedRaster, "title" | "legend" | "leastWidth"> {
  /** Brightness, row-major (rows, columns). */
  readonly data: Float64Array | Float32Array;
  /** [rows, columns], each >= 1. */
  readonly shape: readonly [number, number];
  /** Drawn in middle greys only. Default: from black to white. */
  readonly greyed?: boolean;
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
  const {
    shape: [rows, columns],
    title,
    legend,
    leastWidth = 0,
  } = still;
  const scale = enlargement(columns);
  return drawOnRaster({
    rgb: greysOf(still, scale),
    width: columns * scale,
    height: rows * scale,
    title,
    legend,
    leastWidth,
    marks: (pen) => still.marks(scale, pen),
  });
}

function greysOf({ data, shape: [rows, columns], greyed = false }: MarkedStill, scale: number): Uint8Array {
  const range = brightnessRange(data, [rows, columns]) ?? { low: 0, high: 1 };
  const span = range.high > range.low ? range.high - range.low : 1;
  const [darkest, brightest] = greyed ? GREYED : FULL;
  const rgb = new Uint8Array(3 * rows * columns * scale * scale);
  for (let y = 0, i = 0; y < rows * scale; y++)
    for (let x = 0; x < columns * scale; x++, i += 3) {
      const value = data[Math.floor(y / scale) * columns + Math.floor(x / scale)];
      const share = Math.min(1, Math.max(0, (value - range.low) / span));
      rgb.fill(Math.round(darkest + (brightest - darkest) * share), i, i + 3);
    }
  return rgb;
}
