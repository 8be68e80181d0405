import { scaleLog } from "d3-scale";
import { drawAxis } from "../drawing/axis.js";
import { drawFrame, LEFT, WIDTH } from "../drawing/draw-frame.js";
import type { LegendEntry } from "../drawing/legend.js";
import { letterPen } from "../drawing/letter-pen.js";
import { escapeXml, svgElement, svgNumber } from "../drawing/svg.js";
import { checkPlanPicture, type PlanPicture, type PlanPoint } from "./plan-picture.js";

const RIGHT = WIDTH - 34;
const PANEL_HEIGHT = 400;

const COLOURS = { meets: "#1b4f72", fails: "#8a949e", chosen: "#e07b00", blur: "#c2185b", wanted: "#4d5966" };
const DOT = 5.5;
const CROSS = "M-4.5 -4.5L4.5 4.5M-4.5 4.5L4.5 -4.5";
const BAR = "M-11 0H11";
const NAME_SIZE = 12;
const WIDTHS_APART = 12;
/** Room at the ends of the axes, as a factor. */
const ROOM = 1.25;

/** Draws the trade between height and rate: frames across the length of interest against the rows of the picture, both on
 *  logarithmic scales. Modes that meet the wish are dots, others crosses; the chosen one is ringed, or where there is none the one that
 *  comes nearest, by a broken ring. A bar stands where the blur
 *  limit of a mode lies: above it the mode keeps to the limit.
 *  @returns an SVG document with viewBox, title and description
 *  @throws RangeError where there is no mode, or a value is not finite or not positive */
export function drawPlan(picture: PlanPicture): string {
  checkPlanPicture(picture);
  const head = {
    title: picture.title,
    description: describe(picture),
    ...(picture.nearest && { note: picture.nearest.relax }),
    legend: legendOf(picture),
    right: RIGHT,
  };
  return drawFrame(head, (top) => ({
    height: top + PANEL_HEIGHT + 62,
    content: drawPanel(picture, top),
  }));
}

function drawPanel(picture: PlanPicture, top: number): string[] {
  const { modes, chosen, nearest, framesWanted } = picture;
  const bottom = top + PANEL_HEIGHT;
  const rows = widened(modes.map((mode) => mode.rows));
  const frames = widened([
    framesWanted,
    ...modes.flatMap(({ framesAcross, framesForBlur }) => [framesAcross, framesForBlur ?? framesAcross]),
  ]);
  const x = scaleLog(rows, [LEFT, RIGHT]);
  const y = scaleLog(frames, [bottom, top]);
  const axis = { logarithmic: true, labelDistance: 66 };
  const widths = [...new Set(modes.map(({ columns }) => columns))].sort((a, b) => a - b);
  // Widths of one rate would stand on each other.
  const place = ({ rows: across, columns }: PlanPoint) =>
    x(across) + (widths.indexOf(columns) - (widths.length - 1) / 2) * WIDTHS_APART;
  const at = (mode: PlanPoint, framesAcross: number) =>
    `translate(${svgNumber(place(mode))} ${svgNumber(y(framesAcross))})`;
  const nameOf = (columns: number, first: PlanPoint) => {
    const isWidest = columns === widths[widths.length - 1];
    return letterPen.draw(`${columns} px wide`, {
      x: place(first) + (isWidest ? 14 : -16),
      y: y(first.framesAcross) + (isWidest ? -10 : 4),
      size: NAME_SIZE,
      anchor: isWidest ? "start" : "end",
      fill: COLOURS.wanted,
    });
  };
  const wantedAt = svgNumber(y(framesWanted));
  return [
    drawAxis(
      {
        ...axis,
        side: "left",
        domain: frames,
        range: [bottom, top],
        at: LEFT,
        label: "frames across",
        gridTo: RIGHT,
      },
      letterPen,
    ),
    drawAxis(
      {
        ...axis,
        labelDistance: 46,
        side: "bottom",
        domain: rows,
        range: [LEFT, RIGHT],
        at: bottom,
        label: "rows, px (widths side by side)",
        gridTo: top,
      },
      letterPen,
    ),
    line("frames-wanted", `M${LEFT} ${wantedAt}H${RIGHT}`, COLOURS.wanted, "7 5"),
    ...widths.map((columns) => {
      const series = modes.filter((mode) => mode.columns === columns).toSorted((a, b) => a.rows - b.rows);
      const points = series.map((mode) => `${svgNumber(place(mode))} ${svgNumber(y(mode.framesAcross))}`);
      return line("series", `M${points.join("L")}`, COLOURS.fails, undefined) + nameOf(columns, series[0]);
    }),
    ...modes.map((mode, k) =>
      svgElement(
        "g",
        { class: mode.meets ? "mode meets" : "mode fails", transform: at(mode, mode.framesAcross) },
        svgElement("title", {}, escapeXml(hintOf(mode))),
        mode.meets ? dot(mode.interpolated) : cross(),
        k === chosen ? ring() : k === nearest?.mode ? brokenRing() : "",
      ),
    ),
    ...modes.flatMap((mode) =>
      mode.framesForBlur === null
        ? []
        : [svgElement("g", { class: "blur-limit", transform: at(mode, mode.framesForBlur) }, bar())],
    ),
  ];
}

function line(name: string, d: string, stroke: string, dashes: string | undefined): string {
  return svgElement("path", {
    class: name,
    d,
    stroke,
    "stroke-width": 1.3,
    "stroke-dasharray": dashes,
    fill: "none",
  });
}

function dot(hollow: boolean): string {
  const fill = hollow ? "#ffffff" : COLOURS.meets;
  return svgElement("circle", { r: DOT, fill, stroke: COLOURS.meets, "stroke-width": 1.8 });
}

function cross(): string {
  return svgElement("path", { d: CROSS, stroke: COLOURS.fails, "stroke-width": 2.2, fill: "none" });
}

const RING = { r: 10, stroke: COLOURS.chosen, "stroke-width": 2.6, fill: "none" };

function ring(): string {
  return svgElement("circle", { class: "chosen", ...RING });
}

function brokenRing(): string {
  return svgElement("circle", { class: "nearest", ...RING, "stroke-dasharray": "4.5 3.4" });
}

function bar(): string {
  return svgElement("path", { d: BAR, stroke: COLOURS.blur, "stroke-width": 3, fill: "none" });
}

function widened(values: readonly number[]): [number, number] {
  return [Math.min(...values) / ROOM, Math.max(...values) * ROOM];
}

function legendOf({ modes, chosen, nearest, framesWanted }: PlanPicture): LegendEntry[] {
  const entries: (LegendEntry | null)[] = [
    modes.some(({ meets, interpolated }) => meets && !interpolated)
      ? { symbol: dot(false), text: "meets the wish" }
      : null,
    modes.some(({ meets, interpolated }) => meets && interpolated)
      ? { symbol: dot(true), text: "meets it, rate interpolated" }
      : null,
    modes.some(({ meets }) => !meets) ? { symbol: cross(), text: "does not meet the wish" } : null,
    chosen === null ? null : { symbol: ring(), text: "chosen" },
    nearest ? { symbol: brokenRing(), text: "comes nearest" } : null,
    modes.some(({ framesForBlur }) => framesForBlur !== null)
      ? { symbol: bar(), text: "blur limit: on the bar or above it is kept" }
      : null,
    {
      symbol: line("frames-wanted", "M-15 0H15", COLOURS.wanted, "7 5"),
      text: `frames wanted (${svgNumber(framesWanted)})`,
    },
  ];
  return entries.filter((entry) => entry !== null);
}

function hintOf({ columns, rows, framesAcross, meets }: PlanPoint): string {
  return `${columns} x ${rows} px: ${svgNumber(framesAcross)} frames across${meets ? "" : ", does not meet the wish"}`;
}

function describe({ modes, chosen, nearest, framesWanted }: PlanPicture): string {
  const meeting = modes.filter(({ meets }) => meets).length;
  const choice =
    chosen === null ? "none is chosen" : `${modes[chosen].columns} x ${modes[chosen].rows} px is chosen`;
  return (
    `Frames in which the front would be seen against the rows of the picture, for ${modes.length} recording modes, ${meeting} of ` +
    `which meet the wish; ${svgNumber(framesWanted)} frames are wanted; ${choice}.${nearest ? ` ${nearest.relax}.` : ""}`
  );
}
