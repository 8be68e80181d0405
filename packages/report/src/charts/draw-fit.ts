import { drawAxis } from "../drawing/axis.js";
import { chooseUnit } from "../drawing/choose-unit.js";
import { drawFrame, LEFT, WIDTH } from "../drawing/draw-frame.js";
import type { LegendEntry } from "../drawing/legend.js";
import { letterPen } from "../drawing/letter-pen.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { INK, type TextPen } from "../drawing/text-pen.js";
import { drawTimeAxis } from "../drawing/time-axis.js";
import { chooseFitDomains, type Interval } from "./fit-domains.js";
import { CROSS, drawPanelPoints, FIT_COLOURS, type Panel, panelX, panelY } from "./fit-panel.js";
import { checkFitPicture, type FitPicture } from "./fit-picture.js";

const PANEL_HEIGHTS = { position: 330, residual: 190 };
const PANEL_GAP = 26;
const LABEL_DISTANCE = 66;

const NAMED_FRAMES = 10;

/** Draws the points with the fitted line over the frame number, and under it the residuals on a scale of their own.
 *
 *  Bars are one standard uncertainty. Rejected points are crossed and named by frame; they do not widen the scales much:
 *  one that lies far out stands at the edge with its value. The same picture gives the same text.
 *
 *  @returns an SVG document with viewBox, title and description
 *  @throws RangeError where there is no point, or a value that is needed is not finite or not positive
 */
export function drawFit(picture: FitPicture): string {
  checkFitPicture(picture);
  const { title, subtitle, rateHz, metresPerPixel } = picture;
  const head = {
    title,
    ...(subtitle !== undefined && { subtitle }),
    description: describe(picture),
    legend: legendOf(picture),
    right: WIDTH - (metresPerPixel === undefined ? 34 : LEFT),
  };
  return drawFrame(head, (below) => {
    const [upper, lower] = panelsOf(picture, below + (rateHz === undefined ? 0 : 36), head.right);
    return { height: lower.bottom + 62, content: drawPanels(picture, upper, lower) };
  });
}

function panelsOf(picture: FitPicture, top: number, right: number): readonly [Panel, Panel] {
  const domains = chooseFitDomains(picture);
  const upper: Panel = {
    left: LEFT,
    right,
    top,
    bottom: top + PANEL_HEIGHTS.position,
    frames: domains.frames,
    values: domains.positionsPixels,
  };
  const lowerTop = upper.bottom + PANEL_GAP;
  const lowerBottom = lowerTop + PANEL_HEIGHTS.residual;
  const lower: Panel = { ...upper, top: lowerTop, bottom: lowerBottom, values: domains.residualsPixels };
  return [upper, lower];
}

function drawPanels(picture: FitPicture, upper: Panel, lower: Panel): string[] {
  const { points, line, rateHz, metresPerPixel } = picture;
  const course =
    picture.curve ??
    [line.firstFrame, line.lastFrame].map((frame) => ({
      frame,
      positionPixels: line.interceptPixels + line.slopePixelsPerFrame * frame,
    }));
  const places = course.map(
    ({ frame, positionPixels }) =>
      `${svgNumber(panelX(upper, frame))} ${svgNumber(panelY(upper, positionPixels))}`,
  );
  return [
    drawPanelAxes(upper, "position along the path", metresPerPixel, letterPen),
    drawPanelAxes(lower, "residual", metresPerPixel, letterPen),
    drawFrameAxes(upper, lower, rateHz, letterPen),
    drawPanelPoints(upper, points, (point) => point.positionPixels, letterPen),
    svgElement("path", {
      class: "fitted-line",
      d: `M${places.join("L")}`,
      stroke: FIT_COLOURS.line,
      "stroke-width": 2,
      fill: "none",
    }),
    drawPanelPoints(lower, points, (point) => point.residualPixels, letterPen, { names: true }),
    svgElement("path", {
      class: "zero-line",
      d: `M${lower.left} ${svgNumber(panelY(lower, 0))}H${lower.right}`,
      stroke: FIT_COLOURS.line,
      "stroke-width": 2,
    }),
  ];
}

function drawPanelAxes(panel: Panel, what: string, metresPerPixel: number | undefined, pen: TextPen): string {
  const common = { range: [panel.bottom, panel.top] as const, labelDistance: LABEL_DISTANCE };
  const left = drawAxis(
    {
      ...common,
      side: "left",
      domain: panel.values,
      at: panel.left,
      label: `${what}, px`,
      gridTo: panel.right,
    },
    pen,
  );
  const rim = svgElement("rect", {
    x: panel.left,
    y: panel.top,
    width: panel.right - panel.left,
    height: panel.bottom - panel.top,
    fill: "none",
    stroke: INK,
  });
  if (metresPerPixel === undefined) return left + rim;
  const metres = panel.values.map((value) => value * metresPerPixel);
  const unit = chooseUnit(metres[1] - metres[0], "m");
  const domain: Interval = [metres[0] / unit.size, metres[1] / unit.size];
  const label = `${what}, ${unit.name}`;
  return left + rim + drawAxis({ ...common, side: "right", domain, at: panel.right, label }, pen);
}

function drawFrameAxes(upper: Panel, lower: Panel, rateHz: number | undefined, pen: TextPen): string {
  const common = { domain: upper.frames, range: [upper.left, upper.right] as const, wholeNumbers: true };
  const below = { ...common, side: "bottom" as const, labelDistance: 46 };
  const axes =
    drawAxis({ ...below, at: upper.bottom, label: "", numbers: false, gridTo: upper.top }, pen) +
    drawAxis({ ...below, at: lower.bottom, label: "frame number", gridTo: lower.top }, pen);
  if (rateHz === undefined) return axes;
  return axes + drawTimeAxis({ frames: upper.frames, range: common.range, at: upper.top, rateHz }, pen);
}

function legendOf({ points, line, fitted = "fitted line" }: FitPicture): LegendEntry[] {
  const { used, crossed, unread } = countPoints(points);
  const stroke = { fill: "none", stroke: FIT_COLOURS.used };
  const bar = svgElement("path", { d: "M0 -8V8", ...stroke, "stroke-width": 1.2, "stroke-opacity": 0.6 });
  const dot = svgElement("path", { d: "M0 0h0", ...stroke, "stroke-width": 6.5, "stroke-linecap": "round" });
  const strike = svgElement("path", { d: "M-15 0H15", stroke: FIT_COLOURS.line, "stroke-width": 2 });
  const cross = svgElement("path", {
    d: CROSS,
    stroke: FIT_COLOURS.rejected,
    "stroke-width": 1.8,
    fill: "none",
  });
  const entries = [
    { symbol: bar + dot, text: `points used (${used}), bar: ±1 standard uncertainty` },
    { symbol: strike, text: `${fitted}, frames ${line.firstFrame} to ${line.lastFrame}` },
  ];
  if (crossed > 0)
    entries.push({ symbol: cross, text: `points rejected (${crossed}): ${nameFrames(points)}` });
  if (unread > 0) entries.push({ symbol: "", text: `frames without a reading: ${unread}` });
  return entries;
}

/** Frame numbers of the rejected points, the first ten of them. */
function nameFrames(points: FitPicture["points"]): string {
  const frames = points.filter((point) => !point.used && Number.isFinite(point.positionPixels));
  const named = frames.slice(0, NAMED_FRAMES).map((point) => point.frame);
  const rest = frames.length - named.length;
  const word = frames.length === 1 ? "frame" : "frames";
  return `${word} ${named.join(", ")}${rest === 0 ? "" : ` and ${rest} more`}`;
}

function describe({ points, line, fitted }: FitPicture): string {
  const { used, crossed } = countPoints(points);
  return (
    `Upper panel: position of the front along the path against frame number, ${used} points used and ${crossed} rejected, ` +
    `with the ${fitted === undefined ? "line fitted" : `${fitted}, fitted`} from frame ${line.firstFrame} to frame ${line.lastFrame}. ` +
    "Lower panel: residuals of the same points about zero."
  );
}

function countPoints(points: FitPicture["points"]) {
  const used = points.filter((point) => point.used).length;
  const crossed = points.filter((point) => !point.used && Number.isFinite(point.positionPixels)).length;
  return { used, crossed, unread: points.length - used - crossed };
}
