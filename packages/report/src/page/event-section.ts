import { svgNumber } from "../drawing/svg.js";
import type { ReportedEventFrame, ReportedFrontPlace, ReportedResult } from "../words/reported-result.js";
import { figure, section } from "./figure.js";
import { drawFrontPlace } from "./front-place.js";
import { html, type Markup } from "./html.js";
import type { ReportPictures } from "./page-input.js";
import { pngAddress } from "./picture-data.js";

const MOMENTS = { before: "Before", middle: "In the middle", after: "After" } as const;

/** What a frame shows in which the front was placed nowhere. */
const BOUNDED = {
  before: "the last that shows none of the front",
  middle: "the front is on its way",
  after: "the first that shows the path crossed",
} as const;
const FOLLOWED = {
  before: "the last before a front was followed",
  middle: "no front was placed in it",
  after: "the first after that",
} as const;

/** Frames before, in the middle of and after the event, with the front drawn where it was found. */
export function eventSection(result: ReportedResult, pictures: ReportPictures): Markup | null {
  const { event = [], take } = result;
  if (event.length === 0) return null;
  const shown = event.filter(({ moment }) => pictures[`frame-${moment}.png`] !== undefined);
  if (shown.length === 0)
    return section(
      "event",
      "The event",
      html`<p>The pictures of frames ${event.map(({ frame }) => frame).join(", ")} are not beside the result: measure again without leaving pictures out.</p>`,
    );
  const isPlaced = event.some(({ fronts }) => fronts.length > 0);
  return section(
    "event",
    "The event",
    html`<div class="frames ${isWide(take) ? "rows" : "columns"}">${shown.map((one) => frameFigure(one, result, pictures))}</div>`,
    html`<p class="small">The same greys in all frames.${isAlongPath(result) && " The dotted line is the path that was read."}${isPlaced && ` ${placedText(result)}`}</p>`,
  );
}

function placedText({ status, branches }: ReportedResult): string {
  if (status === "not-found" && !branches) return "The fronts are drawn where their lines have them.";
  return "The front is drawn where it was found in that very frame, not where the fit has it.";
}

/** Frames that are best seen one below the other. */
function isWide({ columns, rows }: ReportedResult["take"]): boolean {
  return columns > 2.4 * rows;
}

/** Of numbers beside fronts, px of the frame: alike on the page, whatever the size of the frame. */
function numberSize(take: ReportedResult["take"]): number {
  return Math.min(0.6 * take.rows, take.columns / (isWide(take) ? 36 : 14));
}

function frameFigure(
  { moment, frame, fronts }: ReportedEventFrame,
  result: ReportedResult,
  pictures: ReportPictures,
): Markup {
  const { rows, columns, path } = result.take;
  const picture = pictures[`frame-${moment}.png`];
  if (picture === undefined) return html``;
  const seen = seenText(moment, fronts, result);
  const [[x1, y1], [x2, y2]] = path;
  const line = `M${svgNumber(x1)} ${svgNumber(y1)}L${svgNumber(x2)} ${svgNumber(y2)}`;
  const size = numberSize(result.take);
  const drawing = html`<svg class="still" viewBox="-0.5 -0.5 ${columns} ${rows}" role="img" aria-label="${`Frame ${frame}, ${MOMENTS[moment].toLowerCase()}: ${seen}`}"><image href="${pngAddress(picture)}" x="-0.5" y="-0.5" width="${columns}" height="${rows}" preserveAspectRatio="none"/>${isAlongPath(result) && html`<path class="path rim" d="${line}"/><path class="path" d="${line}"/>`}${fronts.map((place) => drawFrontPlace(place, size, result.take))}</svg>`;
  return figure(drawing, html`<b>${MOMENTS[moment]}</b>, frame ${frame}: ${seen}`);
}

/** The front ran along a straight path: not along the rays of a circle or the courses of cracks. */
function isAlongPath({ branches, shape }: ReportedResult): boolean {
  return !branches && shape?.measuredAlong !== "radius";
}

function seenText(
  moment: ReportedEventFrame["moment"],
  fronts: readonly ReportedFrontPlace[],
  { status, branches, fronts: several }: ReportedResult,
): string {
  if (fronts.length > 1) return `${fronts.length} ${branches ? "tips are ringed" : "fronts are drawn"}`;
  if (fronts.length === 1) return branches ? "the tip of a crack is ringed" : "the front is drawn";
  if (status === "bounded") return BOUNDED[moment];
  if (status === "not-found" && !branches && !several) return "nothing was found";
  return FOLLOWED[moment];
}
