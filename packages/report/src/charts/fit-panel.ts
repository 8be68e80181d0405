import { format } from "d3-format";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { INK, type TextPen } from "../drawing/text-pen.js";
import type { Interval } from "./fit-domains.js";
import type { FitPoint } from "./fit-picture.js";

/** Rectangle of a panel, px, and the data values at its edges: x left to right, y bottom to top. */
export interface Panel {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly frames: Interval;
  readonly values: Interval;
}

export const FIT_COLOURS = { used: "#1b4f72", line: "#e07b00", rejected: "#c2185b" };
export const CROSS = "M-4 -4L4 4M-4 4L4 -4";

const NAME_SIZE = 11;

/** Distance from the edge at which a cross stands that belongs beyond it: room for its arrow. */
const EDGE_ROOM = 16;

export function panelX(panel: Panel, frame: number): number {
  const [low, high] = panel.frames;
  return panel.left + ((frame - low) / (high - low)) * (panel.right - panel.left);
}

export function panelY(panel: Panel, value: number): number {
  const [low, high] = panel.values;
  return panel.bottom - ((value - low) / (high - low)) * (panel.bottom - panel.top);
}

/** Draws the points of a panel: used ones filled with bars of one standard uncertainty, rejected ones crossed.
 *  A rejected point beyond the panel stands at its edge with an arrow; each says its frame when pointed at.
 *  @param shownValue  what the panel shows of a point; a value that is not finite is left out
 *  @param names  whether rejected points are named in the panel, as far as the names have room
 */
export function drawPanelPoints(
  panel: Panel,
  points: readonly FitPoint[],
  shownValue: (point: FitPoint) => number,
  pen: TextPen,
  { names = false }: { readonly names?: boolean } = {},
): string {
  const shown = points.filter((point) => Number.isFinite(shownValue(point)));
  const clamp = (y: number) => Math.min(panel.bottom, Math.max(panel.top, y));
  let dots = "";
  let bars = "";
  let rejectedBars = "";
  for (const point of shown) {
    const x = svgNumber(panelX(panel, point.frame));
    const value = shownValue(point);
    const inside = value >= panel.values[0] && value <= panel.values[1];
    if (point.used) dots += `M${x} ${svgNumber(panelY(panel, value))}h0`;
    const reach = point.standardUncertaintyPixels;
    if (!inside || !Number.isFinite(reach)) continue;
    const [from, to] = [value - reach, value + reach].map((end) => svgNumber(clamp(panelY(panel, end))));
    if (point.used) bars += `M${x} ${from}V${to}`;
    else rejectedBars += `M${x} ${from}V${to}`;
  }
  const size = shown.length <= 80 ? 6.5 : shown.length <= 600 ? 4.5 : 3;
  const barWidth = shown.length <= 600 ? 1.2 : 0.7;
  const bar = (name: string, d: string, stroke: string) =>
    svgElement("path", {
      class: name,
      d,
      stroke,
      "stroke-width": barWidth,
      "stroke-opacity": 0.6,
      fill: "none",
    });
  return svgElement(
    "g",
    {},
    bars === "" ? "" : bar("bars", bars, FIT_COLOURS.used),
    rejectedBars === "" ? "" : bar("bars-rejected", rejectedBars, FIT_COLOURS.rejected),
    dots === ""
      ? ""
      : svgElement("path", {
          class: "used",
          d: dots,
          stroke: FIT_COLOURS.used,
          "stroke-width": size,
          "stroke-linecap": "round",
          fill: "none",
        }),
    drawRejected(panel, shown, shownValue, pen, names),
  );
}

function drawRejected(
  panel: Panel,
  points: readonly FitPoint[],
  shownValue: (point: FitPoint) => number,
  pen: TextPen,
  names: boolean,
): string {
  const crosses = points
    .filter((point) => !point.used)
    .map((point) => {
      const value = shownValue(point);
      const beyond = value > panel.values[1] ? 1 : value < panel.values[0] ? -1 : 0;
      const inside = panelY(panel, value);
      const y = beyond > 0 ? panel.top + EDGE_ROOM : beyond < 0 ? panel.bottom - EDGE_ROOM : inside;
      return {
        frame: point.frame,
        x: panelX(panel, point.frame),
        y,
        beyond,
        number: format("+.3~r")(value),
        hint: hintOf(point),
      };
    });
  const taken: Box[] = crosses.map(({ x, y }) => ({ left: x - 5, right: x + 5, top: y - 5, bottom: y + 5 }));
  let svg = "";
  for (const { frame, x, y, beyond, number, hint } of crosses) {
    svg += svgElement(
      "g",
      { class: "rejected", transform: `translate(${svgNumber(x)} ${svgNumber(y)})` },
      svgElement("title", {}, hint),
      svgElement("path", { d: CROSS, stroke: FIT_COLOURS.rejected, "stroke-width": 1.8, fill: "none" }),
      beyond === 0
        ? ""
        : svgElement("path", { d: `M-4 ${-7 * beyond}h8L0 ${-13 * beyond}z`, fill: FIT_COLOURS.rejected }),
    );
    if (names)
      svg += placeName(panel, x, y, `frame ${frame}${beyond === 0 ? "" : `: ${number} px`}`, taken, pen);
  }
  return svg;
}

function hintOf({ frame, positionPixels, residualPixels }: FitPoint): string {
  const residual = Number.isFinite(residualPixels) ? `, residual ${format("+.3~r")(residualPixels)} px` : "";
  return `frame ${frame}, rejected: position ${format(".6~r")(positionPixels)} px${residual}`;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Writes a name beside its cross where no other name stands yet, or nothing. */
function placeName(panel: Panel, x: number, y: number, name: string, taken: Box[], pen: TextPen): string {
  const width = pen.width(name, NAME_SIZE);
  for (const left of [x + 8, x - 8 - width]) {
    const box = { left: left - 2, right: left + width + 2, top: y - 6, bottom: y + 6 };
    if (box.left < panel.left || box.right > panel.right) continue;
    const collides = (other: Box) =>
      other.left < box.right && box.left < other.right && other.top < box.bottom && box.top < other.bottom;
    if (taken.some(collides)) continue;
    taken.push(box);
    const ground = svgElement("rect", {
      x: left - 1,
      y: y - 6,
      width: width + 2,
      height: 12,
      fill: "#ffffff",
      "fill-opacity": 0.8,
    });
    return ground + pen.draw(name, { x: left, y: y + 4, size: NAME_SIZE, fill: INK });
  }
  return "";
}
