import type { LegendEntry } from "../drawing/legend.js";
import { svgElement, svgNumber } from "../drawing/svg.js";
import { twoTone } from "../drawing/two-tone.js";
import type { StreakLayout } from "./streak-layout.js";
import type { StreakPicture, StreakPoint } from "./streak-picture.js";

/** Smallest distance of two used markers, px of the plot: between them the edge itself stays visible. */
const MARKER_SPACING = 24;
const REJECTED_SPACING = 12;
const COLOURS = { line: "#ffb000", used: "#4fd8ff", rejected: "#ff6ab0" };
const CIRCLE = "M-3.5 0a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0";
const CROSS = "M-4 -4L4 4M-4 4L4 -4";

/** Marks in the legend stand on grey, as they do in the picture. */
const GROUND = svgElement("rect", { x: -15, y: -7, width: 30, height: 14, fill: "#8a8a8a" });

/** The line and the points over the plot, each on a black rim so that it shows on bright and dark alike.
 *  @returns SVG in px of the plot, origin top left, and what the legend has to say of it
 */
export function drawStreakMarks(
  picture: StreakPicture,
  layout: StreakLayout,
): { svg: string; legend: readonly LegendEntry[] } {
  const { frameDomain, positionDomain, plotWidth, plotHeight } = layout;
  const x = (frame: number) => ((frame - frameDomain[0]) / (frameDomain[1] - frameDomain[0])) * plotWidth;
  const y = (position: number) =>
    (1 - (position - positionDomain[0]) / (positionDomain[1] - positionDomain[0])) * plotHeight;
  const legend: LegendEntry[] = [];
  let svg = "";
  if (picture.line !== undefined) {
    const { interceptPixels, slopePixelsPerFrame, firstFrame, lastFrame } = picture.line;
    const end = (frame: number) =>
      `${svgNumber(x(frame))} ${svgNumber(y(interceptPixels + slopePixelsPerFrame * frame))}`;
    svg += twoTone(`M${end(firstFrame)}L${end(lastFrame)}`, COLOURS.line, true);
    const frames = `frames ${firstFrame} to ${lastFrame}`;
    legend.push({
      symbol: GROUND + twoTone("M-15 0H15", COLOURS.line, true),
      text: `fitted line, ${frames}`,
    });
  }
  if (picture.curve !== undefined) {
    const { curve } = picture;
    const places = curve.map(
      ({ frame, positionPixels }) => `${svgNumber(x(frame))} ${svgNumber(y(positionPixels))}`,
    );
    svg += twoTone(`M${places.join("L")}`, COLOURS.line, true);
    legend.push({
      symbol: GROUND + twoTone("M-15 0H15", COLOURS.line, true),
      text: `${picture.fitted ?? "fitted line"}, frames ${curve[0].frame} to ${curve[curve.length - 1].frame}`,
    });
  }
  const placed = (picture.points ?? []).filter((point) => Number.isFinite(point.positionPixels));
  for (const used of [true, false]) {
    const all = placed.filter((point) => point.used === used);
    if (all.length === 0) continue;
    const colour = used ? COLOURS.used : COLOURS.rejected;
    const shape = used ? CIRCLE : CROSS;
    const inside = all.filter(
      (point) => within(x(point.frame), plotWidth) && within(y(point.positionPixels), plotHeight),
    );
    const shown = thin(inside, x, y, used ? MARKER_SPACING : REJECTED_SPACING);
    for (const point of shown) {
      const at = `translate(${svgNumber(x(point.frame))} ${svgNumber(y(point.positionPixels))})`;
      const bar = (point.standardUncertaintyPixels / (positionDomain[1] - positionDomain[0])) * plotHeight;
      const bars = Number.isFinite(bar) && bar > 5 ? `M0 -5V${svgNumber(-bar)}M0 5V${svgNumber(bar)}` : "";
      svg += svgElement("g", { transform: at }, twoTone(shape + bars, colour, false));
    }
    const notes = [`${all.length}`];
    if (shown.length < inside.length) notes.push(`${shown.length} shown`);
    if (inside.length < all.length) notes.push(`${all.length - inside.length} outside the picture`);
    legend.push({
      symbol: GROUND + twoTone(shape, colour, false),
      text: `${used ? "points used" : "points rejected"} (${notes.join(", ")})`,
    });
  }
  return { svg, legend };
}

function within(place: number, length: number): boolean {
  return place >= 0 && place <= length;
}

function thin(
  points: readonly StreakPoint[],
  x: (frame: number) => number,
  y: (position: number) => number,
  spacing: number,
): StreakPoint[] {
  const kept: StreakPoint[] = [];
  for (const point of points) {
    const last = kept[kept.length - 1];
    const distance =
      last === undefined
        ? Number.POSITIVE_INFINITY
        : Math.hypot(x(point.frame) - x(last.frame), y(point.positionPixels) - y(last.positionPixels));
    if (distance >= spacing) kept.push(point);
  }
  return kept;
}
