import { format, precisionFixed } from "d3-format";
import { drawAxis } from "../drawing/axis.js";
import { emptySymbol } from "../drawing/hatching.js";
import { drawLegend, LEGEND_ROW_HEIGHT, type LegendEntry } from "../drawing/legend.js";
import { loadOutlinePen } from "../drawing/outline-pen.js";
import { svgElement } from "../drawing/svg.js";
import { fitText, INK, type TextPen } from "../drawing/text-pen.js";
import { layOutStreak, type StreakLayout } from "./streak-layout.js";
import { drawStreakMarks } from "./streak-marks.js";
import { checkStreakPicture, type StreakPicture } from "./streak-picture.js";
import { rasteriseStreak, type StreakRaster } from "./streak-raster.js";

const MARGIN = { left: 88, right: 32, bottom: 62 };
const TITLE_BASE_LINE = 34;

/** Draws the streak, position along the path against frame number, with the fitted line and the points on it.
 *
 *  The quantity runs from black at the 0.5 % to white at the 99.5 % quantile. Few samples are enlarged without smoothing,
 *  very many are averaged. Frames and samples that are missing are hatched. The same picture gives the same bytes.
 *
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where shape, frame numbers, line or points do not fit together; nothing is drawn then
 */
export async function drawStreak(picture: StreakPicture): Promise<Uint8Array> {
  checkStreakPicture(picture);
  const { default: sharp } = await import("sharp");
  const pen = await loadOutlinePen();
  const layout = layOutStreak(picture);
  const raster = rasteriseStreak(picture, layout);
  const frame = drawStreakFrame(picture, layout, raster, pen);
  const plot = { width: layout.plotWidth, height: layout.plotHeight, channels: 3 as const };
  const png = await sharp({
    create: { width: frame.width, height: frame.height, channels: 3, background: "#ffffff" },
  })
    .composite([
      { input: Buffer.from(raster.rgb.buffer), raw: plot, left: frame.plotLeft, top: frame.plotTop },
      { input: Buffer.from(frame.svg), left: 0, top: 0 },
    ])
    .removeAlpha()
    .png()
    .toBuffer();
  return new Uint8Array(png);
}

/** Everything round and over the plot as one SVG that holds no letters, only outlines, and where the plot stands. */
export function drawStreakFrame(
  picture: StreakPicture,
  layout: StreakLayout,
  raster: Pick<StreakRaster, "range" | "hasEmpty">,
  pen: TextPen,
): { svg: string; width: number; height: number; plotLeft: number; plotTop: number } {
  const { plotWidth, plotHeight } = layout;
  const width = MARGIN.left + plotWidth + MARGIN.right;
  const subtitle = picture.subtitle ?? "";
  const marks = drawStreakMarks(picture, layout);
  const legend = drawLegend(
    [...marks.legend, ...rasterLegend(raster, picture.quantity ?? "brightness", layout.missingFrames)],
    pen,
    plotWidth,
  );
  const legendTop = TITLE_BASE_LINE + (subtitle === "" ? 0 : 22) + 24;
  const plotTop = legendTop + legend.rows * LEGEND_ROW_HEIGHT;
  const height = plotTop + plotHeight + MARGIN.bottom;
  const bottom = plotTop + plotHeight;
  const heading = (text: string, y: number, size: number, fill: string) =>
    pen.draw(fitText(pen, text, size, plotWidth), { x: MARGIN.left, y, size, fill });
  const svg = svgElement(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", width, height, viewBox: `0 0 ${width} ${height}` },
    heading(picture.title, TITLE_BASE_LINE, 19, INK),
    subtitle === "" ? "" : heading(subtitle, TITLE_BASE_LINE + 22, 14, "#4d5966"),
    svgElement("g", { transform: `translate(${MARGIN.left} ${legendTop})` }, legend.svg),
    svgElement("svg", { x: MARGIN.left, y: plotTop, width: plotWidth, height: plotHeight }, marks.svg),
    svgElement("path", {
      d: `M${MARGIN.left - 0.5} ${plotTop - 0.5}h${plotWidth + 1}v${plotHeight + 1}h${-plotWidth - 1}z`,
      fill: "none",
      stroke: INK,
    }),
    drawAxis(
      {
        side: "bottom",
        domain: layout.frameDomain,
        range: [MARGIN.left, MARGIN.left + plotWidth],
        at: bottom,
        label: layout.areTimes ? "time, counted in frames" : "frame number",
        labelDistance: 46,
        wholeNumbers: true,
      },
      pen,
    ),
    drawAxis(
      {
        side: "left",
        domain: layout.positionDomain,
        range: [bottom, plotTop],
        at: MARGIN.left,
        label: "position along the path, px",
        labelDistance: 62,
      },
      pen,
    ),
  );
  return { svg, width, height, plotLeft: MARGIN.left, plotTop };
}

function rasterLegend(
  { range, hasEmpty }: Pick<StreakRaster, "range" | "hasEmpty">,
  quantity: string,
  missingFrames: number,
): LegendEntry[] {
  const entries: LegendEntry[] = [];
  if (range !== undefined) {
    const greys = ["#000000", "#404040", "#808080", "#bfbfbf", "#ffffff"];
    const steps = greys.map((fill, i) =>
      svgElement("rect", { x: 6 * i - 15, y: -6, width: 6, height: 12, fill }),
    );
    const rim = svgElement("rect", { x: -15, y: -6, width: 30, height: 12, fill: "none", stroke: "#7c8791" });
    const span = range.high - range.low;
    const number = span > 0 ? format(`.${precisionFixed(span / 100)}f`) : format(".4~r");
    entries.push({
      symbol: steps.join("") + rim,
      text: `${quantity} ${number(range.low)} to ${number(range.high)}`,
    });
  }
  if (hasEmpty || missingFrames > 0) {
    entries.push({
      symbol: emptySymbol(),
      text: `no data${missingFrames > 0 ? ` (frames missing: ${missingFrames})` : ""}`,
    });
  }
  return entries;
}
