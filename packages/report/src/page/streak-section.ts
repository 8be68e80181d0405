import type { ReportedResult } from "../words/reported-result.js";
import { chart } from "./chart.js";
import { figure, section } from "./figure.js";
import { html, type Markup, raw } from "./html.js";
import type { ReportPictures } from "./page-input.js";
import { pngAddress } from "./picture-data.js";

const SVG = "http://www.w3.org/2000/svg";
const READ = {
  brightness: "brightness averaged across the path",
  departures: "how far single pixels depart from their levels before (logarithm of the mean square)",
} as const;
/** So many marks at most: between them the edge itself stays to be seen. */
const MARKS = 40;

/** The streak, position against frame, with the fitted line and the positions found. */
export async function streakSection(
  { streak, track, take, branches, fronts = [] }: ReportedResult,
  { "streak-samples.png": samples }: ReportPictures,
): Promise<Markup | null> {
  if (!streak) return null;
  const heading = "Every frame beside the next";
  if (samples === undefined)
    return section(
      "streak",
      heading,
      html`<p>The streak picture is not beside the result: measure again without leaving pictures out.</p>`,
    );
  const { firstFrame, lastFrame, frameStep, lengthPixels, samples: count, channel } = streak;
  const half = count > 1 ? lengthPixels / (count - 1) / 2 : 0.5;
  const frames = [firstFrame - frameStep / 2, lastFrame + frameStep / 2];
  const positions = [-half, lengthPixels + half];
  const rows = (track?.frame ?? []).map((_, k) => ({
    frame: track!.timeSeconds[k] * take.rateHz,
    position: track!.positionPixels[k],
    fitted: track!.fittedPixels[k],
    used: track!.used[k],
  }));
  const absent =
    !take.timestamps && take.lastFrame - take.firstFrame + 1 > take.frames * (take.frameStep ?? 1);
  const across = take.timestamps ? "time, counted in frames" : "frame number";
  const used = rows.filter((row) => row.used);
  const stride = Math.ceil(used.length / MARKS);
  const marked = used.filter((_, k) => k % stride === 0);
  const rejected = rows.filter((row) => !row.used);
  const what = `position along the path against ${across}: ${READ[channel]}`;
  // The streak of a network of cracks is that of its first one, along which no other runs.
  const lines = (branches ? [] : fronts).map((line, k) => ({
    ...line,
    number: k + 1,
    middleFrame: (line.firstFrame + line.lastFrame) / 2,
    middlePixels: (line.fromPixels + line.toPixels) / 2,
  }));
  const ends = { x1: "firstFrame", x2: "lastFrame", y1: "fromPixels", y2: "toPixels" };
  const drawn = await chart(
    rows.length > 0
      ? `Streak picture, ${what}. The front is the border between the levels before and behind it; the fitted line runs along it from frame ${used[0].frame.toFixed(0)} to ${used[used.length - 1].frame.toFixed(0)}.`
      : `Streak picture, ${what}. No line was fitted.`,
    (width, plot) => ({
      height: Math.min(460, Math.max(260, 0.55 * width)),
      x: { domain: frames, label: across, ticks: width / 100, tickFormat: (d: number) => `${d}` },
      y: { domain: positions, label: "position along the path, px", ticks: 6 },
      marks: [
        (_index, { x, y }, _values, _dimensions, context) => {
          const image = context!.document.createElementNS(SVG, "use");
          const [left, right] = frames.map((value) => (x as unknown as (v: number) => number)(value));
          const [bottom, top] = positions.map((value) => (y as unknown as (v: number) => number)(value));
          image.setAttribute("href", "#streak-samples");
          image.setAttribute("transform", `translate(${left} ${top}) scale(${right - left} ${bottom - top})`);
          return image as SVGElement;
        },
        plot.link(lines, { ...ends, stroke: "#000", strokeWidth: 3.5, strokeOpacity: 0.6 }),
        plot.link(lines, { ...ends, stroke: "#fff", strokeWidth: 1.5, strokeDasharray: "2 5" }),
        plot.text(lines, {
          x: "middleFrame",
          y: "middlePixels",
          text: "number",
          dx: -18,
          fontSize: 20,
          fontWeight: "bold",
          fill: "#fff",
          stroke: "#000",
          strokeWidth: 4,
        }),
        plot.line(used, { x: "frame", y: "fitted", stroke: "#000", strokeWidth: 4, strokeOpacity: 0.6 }),
        plot.line(used, {
          x: "frame",
          y: "fitted",
          stroke: "#ffb000",
          strokeWidth: 2,
          strokeDasharray: "8 6",
        }),
        plot.dot(marked, { x: "frame", y: "position", r: 4.5, stroke: "#000", strokeWidth: 3.5 }),
        plot.dot(marked, { x: "frame", y: "position", r: 4.5, stroke: "#4fd8ff", strokeWidth: 1.8 }),
        plot.dot(rejected, {
          x: "frame",
          y: "position",
          symbol: "times",
          r: 5,
          stroke: "#ff6ab0",
          strokeWidth: 2,
        }),
      ],
    }),
  );
  const definitions = html`<svg class="definitions" width="0" height="0" aria-hidden="true"><defs><image id="streak-samples" width="1" height="1" preserveAspectRatio="none" href="${pngAddress(samples)}"/></defs></svg>`;
  return section(
    "streak",
    heading,
    figure(
      html`${definitions}${drawn}`,
      rows.length > 0
        ? html`Every column is one frame: ${READ[channel]}. ${key("line")} fitted line, ${key("found")} position found in a frame${rejected.length > 0 && html`, ${key("rejected")} rejected`}.${absent && " Striped columns have no frame."}`
        : html`Every column is one frame: ${READ[channel]}. ${unfollowedText(branches !== undefined, lines.length)}`,
    ),
  );
}

/** What there is to see in a streak through which no line was fitted. */
function unfollowedText(isOfCracks: boolean, lines: number): string {
  if (isOfCracks) return "It is that of crack number 1, along its own course.";
  if (lines > 0) return "Dotted and numbered: the lines on which fronts were seen.";
  return "A front that can be followed is a slanting border; no line was fitted.";
}

/** A sign of the picture within the text. */
function key(which: "line" | "found" | "rejected"): Markup {
  return raw(`<span class="key ${which}" aria-hidden="true"></span>`);
}
