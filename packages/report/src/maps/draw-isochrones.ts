import { checkStill, drawOnStill, GROUND } from "../drawing/draw-on-still.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { INK, type TextPen } from "../drawing/text-pen.js";
import { twoTone } from "../drawing/two-tone.js";
import { type CellValues, checkCells } from "./cell-values.js";
import { type Isochrone, isochroneLines, lengthOf } from "./isochrone-lines.js";

/** What `drawIsochrones` draws: a still, and when the front arrived at the places that it shows. */
export interface IsochronesPicture {
  /** Brightness, row-major (rows, columns). */
  readonly data: Float64Array | Float32Array;
  /** [rows, columns], each >= 1. */
  readonly shape: readonly [number, number];
  /** Number of the frame that the still is. */
  readonly frame: number;
  /** Time of arrival, counted in frame numbers. */
  readonly arrival: CellValues;
  /** Of these times, frames, shape as theirs. */
  readonly standardUncertainty: Float64Array;
  /** Frames per second, > 0. */
  readonly rateHz: number;
  readonly title: string;
}

const LINE = "#ffe14d";
const LABEL_SIZE = 13;
const LEAST_WIDTH = 560;

/** Draws lines of equal time of arrival over a greyed still, evenly spaced at round times, each with its time. Where no front arrived nothing is drawn.
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where samples, shapes and rate do not fit together; nothing is drawn then */
export async function drawIsochrones(picture: IsochronesPicture): Promise<Uint8Array> {
  const { data, shape, frame, arrival, standardUncertainty, rateHz, title } = picture;
  checkStill({ data, shape });
  checkCells(arrival, shape);
  if (standardUncertainty.length !== arrival.values.length)
    throw new RangeError(
      `standardUncertainty must hold as many values as arrival, ${arrival.values.length}, got ${standardUncertainty.length}`,
    );
  if (!(Number.isFinite(rateHz) && rateHz > 0))
    throw new RangeError(`rateHz must be finite and > 0, got ${rateHz}`);
  const { isochrones, step, origin } = isochroneLines(arrival, standardUncertainty, rateHz);
  const spacing = step === null ? "" : `one every ${step}, `;
  return drawOnStill({
    data,
    shape,
    title,
    greyed: true,
    leastWidth: LEAST_WIDTH,
    legend: [
      {
        symbol: GROUND + twoTone("M-13 0L13 0", LINE, false),
        text: isochrones.some(({ lines }) => lines.length > 0)
          ? `the front stood here at the time on the line: ${spacing}counted from frame ${origin}`
          : "no front arrived anywhere",
      },
      { symbol: GROUND, text: `behind: frame ${frame}, greyed` },
    ],
    marks: (scale, pen) => drawIsochroneMarks(isochrones, shape, scale, pen),
  });
}

/** The lines and then their times, each beside no other.
 *  @param shape  of the still
 *  @param scale  px of the drawing to one of the still */
export function drawIsochroneMarks(
  isochrones: readonly Isochrone[],
  [rows, columns]: readonly [number, number],
  scale: number,
  pen: TextPen,
): string {
  const onDrawing = (line: readonly (readonly [number, number])[]) =>
    line.map(([x, y]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const);
  const drawn = isochrones.map(({ label, lines }) => ({ label, lines: lines.map(onDrawing) }));
  const paths = drawn.map(({ lines }) => {
    const d = lines
      .map((line) => `M${line.map(([x, y]) => `${svgNumber(x)} ${svgNumber(y)}`).join("L")}`)
      .join("");
    return d === "" ? "" : twoTone(d, LINE, false);
  });
  const taken: Box[] = [];
  const room = { left: 0, right: columns * scale, top: 0, bottom: rows * scale };
  const labels = drawn.map(({ label, lines }) => placeLabel(label, lines, room, taken, pen));
  return paths.join("") + labels.join("");
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Shares of a line at which its time may stand, the middle first. */
const PLACES = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];

/** Writes a time on the longest of its lines where it stands on no other time, or nothing. */
function placeLabel(
  label: string,
  lines: readonly (readonly (readonly [number, number])[])[],
  room: Box,
  taken: Box[],
  pen: TextPen,
): string {
  const [width, height] = [pen.width(label, LABEL_SIZE) + 8, LABEL_SIZE + 5];
  for (const line of lines)
    for (const share of PLACES) {
      const [x, y] = alongLine(line, share);
      const box = {
        left: x - width / 2,
        right: x + width / 2,
        top: y - height / 2,
        bottom: y + height / 2,
      };
      if (box.left < 0 || box.right > room.right || box.top < 0 || box.bottom > room.bottom) continue;
      if (taken.some((other) => overlaps(box, other))) continue;
      taken.push(box);
      return svgElement(
        "g",
        { class: "time" },
        svgElement("rect", {
          x: box.left,
          y: box.top,
          width,
          height,
          rx: 3,
          fill: "#ffffff",
          "fill-opacity": 0.88,
          stroke: INK,
          "stroke-width": 0.7,
        }),
        pen.draw(label, { x, y: y + 0.36 * LABEL_SIZE, size: LABEL_SIZE, anchor: "middle" }),
      );
    }
  return "";
}

function overlaps(one: Box, other: Box): boolean {
  return (
    one.left < other.right + 4 &&
    other.left < one.right + 4 &&
    one.top < other.bottom + 4 &&
    other.top < one.bottom + 4
  );
}

function alongLine(line: readonly (readonly [number, number])[], share: number): readonly [number, number] {
  let left = share * lengthOf(line);
  for (let k = 1; k < line.length; k++) {
    const [[x1, y1], [x2, y2]] = [line[k - 1], line[k]];
    const length = Math.hypot(x2 - x1, y2 - y1);
    if (left <= length && length > 0)
      return [x1 + ((x2 - x1) * left) / length, y1 + ((y2 - y1) * left) / length];
    left -= length;
  }
  return line[line.length - 1];
}
