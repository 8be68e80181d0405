import { scaleLinear, scaleLog } from "d3-scale";
import { svgElement, svgNumber } from "./svg.js";
import { INK, type TextPen } from "./text-pen.js";

/** A straight axis: which data value stands at which pixel, and how it is labelled. */
export interface Axis {
  readonly side: "left" | "right" | "top" | "bottom";
  /** Data values at the two ends. */
  readonly domain: readonly [number, number];
  /** Pixels of the two ends, along the axis. */
  readonly range: readonly [number, number];
  /** Pixel of the axis line, across it. */
  readonly at: number;
  readonly label: string;
  /** Distance of the label's base line from the axis line, px. */
  readonly labelDistance: number;
  /** Ticks at whole numbers only; default false. */
  readonly wholeNumbers?: boolean;
  /** Logarithmic, with ticks at 1, 2 and 5 times powers of ten; default false. */
  readonly logarithmic?: boolean;
  /** Pixel to which grid lines run from the axis line; default no grid. */
  readonly gridTo?: number;
  /** False leaves out the numbers, where a neighbour already shows them; default true. */
  readonly numbers?: boolean;
}

const TICK_LENGTH = 5;
const NUMBER_SIZE = 13;
const LABEL_SIZE = 14;
const MINIMUM_TICK_SPACING = { across: 90, down: 44 };

/** Draws an axis with ticks at round values, their numbers and its label. */
export function drawAxis(axis: Axis, pen: TextPen): string {
  const {
    side,
    domain,
    range,
    at,
    label,
    labelDistance,
    wholeNumbers = false,
    logarithmic = false,
    gridTo,
    numbers = true,
  } = axis;
  const vertical = side === "left" || side === "right";
  const outward = side === "left" || side === "top" ? -1 : 1;
  const [low, high] = [Math.min(...range), Math.max(...range)];
  const count = Math.max(2, Math.floor((high - low) / MINIMUM_TICK_SPACING[vertical ? "down" : "across"]));
  const linear = scaleLinear([...domain], [...range]);
  const scale = logarithmic ? scaleLog([...domain], [...range]) : linear;
  const ticks = logarithmic
    ? roundInDecades(domain)
    : linear.ticks(count).filter((tick) => !wholeNumbers || Number.isInteger(tick));
  const format = logarithmic ? String : linear.tickFormat(count, wholeNumbers ? "d" : "f");
  let marks = "";
  let grid = "";
  let texts = "";
  for (const tick of ticks) {
    const place = svgNumber(scale(tick));
    marks += vertical ? `M${svgNumber(at)} ${place}` : `M${place} ${svgNumber(at)}`;
    marks += `${vertical ? "h" : "v"}${outward * TICK_LENGTH}`;
    if (gridTo !== undefined) {
      grid += vertical
        ? `M${svgNumber(at)} ${place}H${svgNumber(gridTo)}`
        : `M${place} ${svgNumber(at)}V${svgNumber(gridTo)}`;
    }
    if (!numbers) continue;
    texts += vertical
      ? pen.draw(format(tick), {
          x: at + outward * (TICK_LENGTH + 4),
          y: scale(tick) + 0.36 * NUMBER_SIZE,
          size: NUMBER_SIZE,
          anchor: side === "left" ? "end" : "start",
        })
      : pen.draw(format(tick), {
          x: scale(tick),
          y: side === "top" ? at - TICK_LENGTH - 5 : at + TICK_LENGTH + 3 + NUMBER_SIZE * 0.8,
          size: NUMBER_SIZE,
          anchor: "middle",
        });
  }
  const middle = (low + high) / 2;
  const title = pen.draw(label, {
    x: vertical ? at + outward * labelDistance : middle,
    y: vertical ? middle : at + outward * labelDistance,
    size: LABEL_SIZE,
    anchor: "middle",
    turnDegrees: side === "left" ? -90 : side === "right" ? 90 : 0,
  });
  return svgElement(
    "g",
    { class: `axis axis-${side}` },
    grid === "" ? "" : svgElement("path", { d: grid, stroke: "#e3e7eb", "stroke-width": 1, fill: "none" }),
    svgElement("path", { d: marks, stroke: INK, "stroke-width": 1, fill: "none" }),
    texts,
    title,
  );
}

/** 1, 2 and 5 times powers of ten within a domain of numbers > 0. */
function roundInDecades([low, high]: readonly [number, number]): number[] {
  const ticks: number[] = [];
  for (let decade = Math.floor(Math.log10(low)); decade <= Math.log10(high); decade++)
    for (const digit of [1, 2, 5]) ticks.push(Number(`${digit}e${decade}`));
  return ticks.filter((tick) => tick >= low && tick <= high);
}
