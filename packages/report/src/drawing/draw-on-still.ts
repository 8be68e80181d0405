import { commonRange } from "./brightness-range.js";
import { drawOnRaster, enlargement, type MarkedRaster } from "./draw-on-raster.js";
import { FULL, greyPixels } from "./grey-pixels.js";
import { svgElement } from "./svg.js";
import type { TextPen } from "./text-pen.js";

/** Darkest and brightest grey of a still that is greyed, so that what is drawn over it stands out. */
const GREYED = [96, 208] as const;

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
    rgb: greyPixels(still, commonRange([still]), scale, still.greyed ? GREYED : FULL),
    width: columns * scale,
    height: rows * scale,
    title,
    legend,
    leastWidth,
    marks: (pen) => still.marks(scale, pen),
  });
}
