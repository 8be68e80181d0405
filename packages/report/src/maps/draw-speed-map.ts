import { ascending, median, quantile, ticks } from "d3-array";
import { format } from "d3-format";
import { drawAxis } from "../drawing/axis.js";
import { scaleColour } from "../drawing/colour-scale.js";
import { drawOnRaster, enlargement } from "../drawing/draw-on-raster.js";
import { emptyColour, emptySymbol } from "../drawing/hatching.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { INK, type TextPen } from "../drawing/text-pen.js";
import { type CellValues, checkCells } from "./cell-values.js";

/** What `drawSpeedMap` draws: the local speed of the front at the places of a picture. */
export interface SpeedMapPicture {
  /** Local speed, m/s. */
  readonly speed: CellValues;
  /** Standard, of these speeds, m/s, shape as theirs. */
  readonly standardUncertainty: Float64Array;
  /** [rows, columns] of the picture, px. */
  readonly shape: readonly [number, number];
  readonly title: string;
}

/** Speeds from one of these shares of the cells to the other have colours of their own; the few beyond have those of the ends. */
const [LOW_SHARE, HIGH_SHARE] = [0.02, 0.98];
/** The scale reaches at least so far to either side of the median, as a share of it, and so many standard uncertainties of one cell: else noise would look like
 *  a difference. */
const LEAST_REACH = 0.1;
const LEAST_UNCERTAINTIES = 6;
const KEY = { height: 92, top: 20, barHeight: 16, widest: 560, steps: 128 };

/** Draws the local speed in colours, with its key below; places where nothing is said of it are hatched.
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where cells and picture do not fit together; nothing is drawn then */
export async function drawSpeedMap(picture: SpeedMapPicture): Promise<Uint8Array> {
  const { speed, standardUncertainty, shape, title } = picture;
  checkCells(speed, shape);
  if (standardUncertainty.length !== speed.values.length)
    throw new RangeError(
      `standardUncertainty must hold as many values as speed, ${speed.values.length}, got ${standardUncertainty.length}`,
    );
  const typical = median(standardUncertainty.filter((u) => !Number.isNaN(u))) ?? 0;
  const domain = speedDomain(speed.values, typical);
  const scale = enlargement(shape[1]);
  return drawOnRaster({
    rgb: paintSpeeds(picture, domain, scale),
    width: shape[1] * scale,
    height: shape[0] * scale,
    title,
    leastWidth: KEY.widest,
    legend: [
      ...(domain === null
        ? []
        : [
            {
              symbol: barSymbol(),
              text: `local speed of the front; one cell by itself is known to ±${format(".2~r")(typical)} m/s (k = 1)`,
            },
          ]),
      {
        symbol: emptySymbol(),
        text: `nothing can be said of the speed ${domain === null ? "anywhere" : "here"}`,
      },
    ],
    marks: () => "",
    ...(domain !== null && {
      below: {
        height: KEY.height,
        draw: (pen: TextPen, width: number) => drawKey(domain, Math.min(width, KEY.widest), pen),
      },
    }),
  });
}

/** Speeds at the two ends of the colour scale, round; null where no speed is said.
 *  @param uncertainty  standard uncertainty of one of them */
export function speedDomain(speeds: Float64Array, uncertainty: number): readonly [number, number] | null {
  const sorted = speeds.filter((speed) => !Number.isNaN(speed)).sort(ascending);
  if (sorted.length === 0) return null;
  const middle = quantile(sorted, 0.5)!;
  const least = Math.max(middle * LEAST_REACH, LEAST_UNCERTAINTIES * uncertainty);
  const low = Math.min(quantile(sorted, LOW_SHARE)!, Math.max(0, middle - least));
  const high = Math.max(quantile(sorted, HIGH_SHARE)!, middle + least);
  const [first, second] = ticks(low, high, 10);
  const step = second - first;
  return [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
}

/** The colours of the map as pixels of the enlarged picture.
 *  @returns row-major RGB, 8 bits */
export function paintSpeeds(
  { speed, shape: [rows, columns] }: Pick<SpeedMapPicture, "speed" | "shape">,
  domain: readonly [number, number] | null,
  scale: number,
): Uint8Array {
  const { values, cell } = speed;
  const [cellRows, cellColumns] = speed.shape;
  const colours = Array.from(values, (value) =>
    domain === null || Number.isNaN(value)
      ? null
      : scaleColour((value - domain[0]) / (domain[1] - domain[0])),
  );
  const rgb = new Uint8Array(3 * rows * columns * scale * scale);
  for (let y = 0, i = 0; y < rows * scale; y++) {
    const row = Math.floor(y / (scale * cell));
    for (let x = 0; x < columns * scale; x++, i += 3) {
      const column = Math.floor(x / (scale * cell));
      const inside = row < cellRows && column < cellColumns;
      rgb.set((inside && colours[row * cellColumns + column]) || emptyColour(x, y), i);
    }
  }
  return rgb;
}

/** The colour scale with its speeds, drawn from (0, 0).
 *  @param domain  speeds at its ends, m/s */
export function drawKey(domain: readonly [number, number], width: number, pen: TextPen): string {
  const inset = 16;
  const range = [inset, width - inset] as const;
  const step = (range[1] - range[0]) / KEY.steps;
  const bar = Array.from({ length: KEY.steps }, (_, k) =>
    svgElement("rect", {
      x: svgNumber(range[0] + k * step),
      y: KEY.top,
      // A little over the next one, so that no ground shows between them.
      width: svgNumber(k + 1 < KEY.steps ? step + 0.5 : step),
      height: KEY.barHeight,
      fill: `rgb(${scaleColour((k + 0.5) / KEY.steps).join(",")})`,
    }),
  );
  const at = KEY.top + KEY.barHeight;
  return svgElement(
    "g",
    { class: "key" },
    ...bar,
    svgElement("rect", {
      x: range[0],
      y: KEY.top,
      width: range[1] - range[0],
      height: KEY.barHeight,
      fill: "none",
      stroke: INK,
    }),
    drawAxis(
      {
        side: "bottom",
        domain,
        range,
        at,
        label: "local speed, m/s (beyond the ends: the colours of the ends)",
        labelDistance: 42,
      },
      pen,
    ),
  );
}

function barSymbol(): string {
  return [0, 0.25, 0.5, 0.75, 1]
    .map((share, k) =>
      svgElement("rect", {
        x: 6 * k - 15,
        y: -6,
        width: 6,
        height: 12,
        fill: `rgb(${scaleColour(share).join(",")})`,
      }),
    )
    .join("");
}
