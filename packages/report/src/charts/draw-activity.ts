import { drawAxis } from "../drawing/axis.js";
import { drawFrame, LEFT, WIDTH } from "../drawing/draw-frame.js";
import type { LegendEntry } from "../drawing/legend.js";
import { letterPen } from "../drawing/letter-pen.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { INK } from "../drawing/text-pen.js";
import { drawTimeAxis } from "../drawing/time-axis.js";
import { type ActivityPicture, checkActivityPicture } from "./activity-picture.js";

const RIGHT = WIDTH - 34;
const PANEL_HEIGHT = 210;
/** Room for the numbers of the events above the panel's highest bar. */
const HEADROOM = 1.3;
const NUMBER_SIZE = 13;
const ACTIVITY = "#1b4f72";
const EVENT = "#e07b00";
const LIGHT = "#6b6b6b";
const DASHES = "5 4";

/** Draws how much happens along a take, as bars over the frame number, and where the events lie: numbered marks at the
 *  top, in the order of their strength. The same picture gives the same text.
 *  @returns an SVG document with viewBox, title and description
 *  @throws RangeError for a picture that does not fit together */
export function drawActivity(picture: ActivityPicture): string {
  checkActivityPicture(picture);
  const { title, subtitle } = picture;
  const head = {
    title,
    ...(subtitle !== undefined && { subtitle }),
    description: describe(picture),
    legend: legendOf(picture),
    right: RIGHT,
  };
  return drawFrame(head, (below) => {
    const top = below + (picture.rateHz === undefined ? 0 : 36);
    return { height: top + PANEL_HEIGHT + 62, content: drawPanel(picture, top) };
  });
}

function drawPanel(picture: ActivityPicture, top: number): string[] {
  const { activity, events, lightChanges = [], firstFrame, lastFrame, rateHz } = picture;
  const frames = [firstFrame - 0.5, lastFrame + 0.5] as const;
  const inner = RIGHT - LEFT;
  const bottom = top + PANEL_HEIGHT;
  const greatest = HEADROOM * Math.max(1, ...activity.map(({ strength }) => strength));
  const x = (frame: number) => LEFT + ((frame - frames[0]) / (frames[1] - frames[0])) * inner;
  const y = (strength: number) => bottom - (strength / greatest) * PANEL_HEIGHT;
  const range = [LEFT, RIGHT] as const;

  const bars = activity
    .filter(({ strength }) => strength > 0)
    .map(({ frame, strength }) => `M${svgNumber(x(frame))} ${bottom}V${svgNumber(y(strength))}`)
    .join("");
  const left = { side: "left" as const, labelDistance: 66, gridTo: RIGHT };
  const bottomAxis = { side: "bottom" as const, wholeNumbers: true, labelDistance: 46 };
  return [
    drawAxis(
      { ...left, domain: [0, greatest], range: [bottom, top], at: LEFT, label: "change, noise levels" },
      letterPen,
    ),
    drawAxis({ ...bottomAxis, domain: frames, range, at: bottom, label: "frame number" }, letterPen),
    rateHz === undefined ? "" : drawTimeAxis({ frames, range, at: top, rateHz }, letterPen),
    ...events.map(({ firstFrame: first, lastFrame: last }) =>
      svgElement("rect", {
        class: "event",
        x: x(first - 0.5),
        y: top,
        width: Math.max(1, x(last + 0.5) - x(first - 0.5)),
        height: PANEL_HEIGHT,
        fill: EVENT,
        "fill-opacity": 0.3,
      }),
    ),
    ...lightChanges.map(({ firstFrame: first, lastFrame: last }) =>
      svgElement("path", {
        class: "light",
        d: `M${svgNumber(x((first + last) / 2))} ${bottom}V${top}`,
        stroke: LIGHT,
        "stroke-dasharray": DASHES,
        "stroke-width": 1.5,
        fill: "none",
      }),
    ),
    svgElement("path", { class: "activity", d: bars, stroke: ACTIVITY, "stroke-width": 1.5, fill: "none" }),
    ...numbersOf(picture, x, top),
    svgElement("rect", {
      x: LEFT,
      y: top,
      width: inner,
      height: PANEL_HEIGHT,
      fill: "none",
      stroke: INK,
    }),
  ];
}

/** A triangle at the top of every event and its number beside it, the strongest first; a number that would stand on one
 *  already there is left out. */
function numbersOf({ events }: ActivityPicture, x: (frame: number) => number, top: number): string[] {
  const taken: (readonly [number, number])[] = [];
  return events.map(({ firstFrame, lastFrame }, i) => {
    const middle = x((firstFrame + lastFrame) / 2);
    const text = String(i + 1);
    const width = letterPen.width(text, NUMBER_SIZE);
    const from = middle + 8 + width > RIGHT ? middle - 8 - width : middle + 8;
    const free = taken.every(([start, end]) => end < middle - 7 || start > Math.max(middle, from) + width);
    if (free) taken.push([Math.min(from, middle - 7), Math.max(middle + 7, from + width)]);
    const mark = svgElement("path", {
      class: "mark",
      d: `M${svgNumber(middle - 6)} ${top + 3}h12l-6 10z`,
      fill: EVENT,
    });
    return free ? mark + letterPen.draw(text, { x: from, y: top + 14, size: NUMBER_SIZE }) : mark;
  });
}

const NAMED_EVENTS = 4;

function legendOf({ events, lightChanges = [] }: ActivityPicture): LegendEntry[] {
  const bar = svgElement("path", { d: "M0 7V-7", stroke: ACTIVITY, "stroke-width": 1.5 });
  const mark = svgElement("path", { d: "M-6 -5h12l-6 10z", fill: EVENT });
  const line = svgElement("path", {
    d: "M0 8V-8",
    stroke: LIGHT,
    "stroke-dasharray": DASHES,
    "stroke-width": 1.5,
  });
  const named = events.slice(0, NAMED_EVENTS).map(({ firstFrame, lastFrame, kind }, i) => ({
    symbol: mark,
    text: `${i + 1}: frames ${firstFrame} to ${lastFrame}, ${kind}`,
  }));
  const rest = events.length - named.length;
  return [
    { symbol: bar, text: "change of the picture since the frame read before" },
    ...named,
    ...(rest > 0 ? [{ symbol: mark, text: `and ${rest} weaker` }] : []),
    ...(lightChanges.length > 0
      ? [{ symbol: line, text: "the light changes everywhere at once (no event)" }]
      : []),
  ];
}

function describe({ events, firstFrame, lastFrame }: ActivityPicture): string {
  const list = events.map((event) => `frames ${event.firstFrame} to ${event.lastFrame} (${event.kind})`);
  return (
    `How much the picture changes from frame ${firstFrame} to frame ${lastFrame}. ` +
    (list.length === 0 ? "No event was found." : `Events, strongest first: ${list.join("; ")}.`)
  );
}
