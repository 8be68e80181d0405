import { checkStill, drawOnStill, GROUND } from "../drawing/draw-on-still.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import type { TextPen } from "../drawing/text-pen.js";

/** What `drawBranches` draws: a still, and the courses of the cracks in it. */
export interface BranchesPicture {
  /** Brightness, row-major (rows, columns). */
  readonly data: Float64Array | Float32Array;
  /** [rows, columns], each >= 1. */
  readonly shape: readonly [number, number];
  readonly branches: readonly BranchCourse[];
  readonly title: string;
}

/** The course of one crack. */
export interface BranchCourse {
  /** px of the still, whole numbers are pixel centres; in the direction in which it ran. */
  readonly points: readonly (readonly [number, number])[];
  /** What the legend says of it, behind its number. */
  readonly text: string;
}

/** Colours that differ in lightness and for colour-blind eyes as well; number, dashes and a colour tell a branch.
 *  @see M. Okabe and K. Ito, Color Universal Design, 2002 (from memory) */
const COLOURS = ["#56b4e9", "#e69f00", "#009e73", "#f0e442", "#cc79a7", "#d55e00", "#0072b2", "#ffffff"];
const DASHES = [undefined, "10 5", "3 4", "14 4 3 4"];
const NUMBER_SIZE = 17;

/** Draws a still with the courses of cracks: each in a colour and with dashes of its own, its number where it starts and an arrow head
 *  where it ends.
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where samples, shape and points do not fit together; nothing is drawn then */
export async function drawBranches({ data, shape, branches, title }: BranchesPicture): Promise<Uint8Array> {
  checkStill({ data, shape });
  branches.forEach(({ points }, i) => {
    if (points.length < 2)
      throw new RangeError(`branches[${i}] must have at least two points, got ${points.length}`);
    if (!points.every((point) => point.every(Number.isFinite)))
      throw new RangeError(`branches[${i}] must hold finite points`);
  });
  return drawOnStill({
    data,
    shape,
    title,
    legend: branches.map(({ text }, k) => ({
      symbol: GROUND + course("M-13 0L13 0", k),
      text: `${k + 1}: ${text}`,
    })),
    marks: (scale, pen) => branches.map((branch, k) => drawBranch(branch, k, scale, pen)).join(""),
  });
}

function drawBranch({ points }: BranchCourse, k: number, scale: number, pen: TextPen): string {
  const placed = points.map(([x, y]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const);
  const d = `M${placed.map(([x, y]) => `${svgNumber(x)} ${svgNumber(y)}`).join("L")}`;
  const [start, end] = [placed[0], placed[placed.length - 1]];
  const before = placed[Math.max(0, placed.length - 1 - Math.ceil(12 / scale))];
  const degrees = (Math.atan2(end[1] - before[1], end[0] - before[0]) * 180) / Math.PI;
  const after = placed[Math.min(placed.length - 1, Math.ceil(24 / scale))];
  const length = Math.hypot(after[0] - start[0], after[1] - start[1]) || 1;
  // Beside the course, on its left as it runs: there it does not lie on the line.
  const [x, y] = [
    (start[0] + after[0]) / 2 + (16 * (after[1] - start[1])) / length,
    (start[1] + after[1]) / 2 - (16 * (after[0] - start[0])) / length,
  ];
  return (
    course(d, k) +
    svgElement("path", {
      d: "M-9 -5L0 0L-9 5Z",
      transform: `translate(${svgNumber(end[0])} ${svgNumber(end[1])}) rotate(${svgNumber(degrees)})`,
      fill: colourOf(k),
      stroke: "#000000",
      "stroke-width": 1,
    }) +
    svgElement("circle", { cx: svgNumber(x), cy: svgNumber(y), r: 11, fill: "#ffffff", stroke: "#000000" }) +
    pen.draw(String(k + 1), { x, y: y + NUMBER_SIZE * 0.36, size: NUMBER_SIZE, anchor: "middle" })
  );
}

/** A line in the colour and with the dashes of a branch, on a black rim. */
function course(d: string, k: number): string {
  const common = { d, fill: "none" };
  return (
    svgElement("path", { ...common, stroke: "#000000", "stroke-width": 4, "stroke-opacity": 0.6 }) +
    svgElement("path", {
      ...common,
      stroke: colourOf(k),
      "stroke-width": 2,
      "stroke-dasharray": DASHES[Math.floor(k / 2) % DASHES.length],
    })
  );
}

function colourOf(k: number): string {
  return COLOURS[k % COLOURS.length];
}
