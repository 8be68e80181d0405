import { svgNumber } from "../svg.js";
import type { ReportedEventFrame, ReportedFrontPlace, ReportedResult } from "../words/reported-result.js";
import { figure, section } from "./figure.js";
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
  before: "the last before the front is followed",
  middle: "the front was not placed in it",
  after: "the first after the front was followed",
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
  const shape = take.columns > 2.4 * take.rows ? "rows" : "columns";
  return section(
    "event",
    "The event",
    html`<div class="frames ${shape}">${shown.map((one) => frameFigure(one, result, pictures))}</div>`,
    html`<p class="small">The same greys in all frames.${isAlongPath(result) && " The dotted line is the path that was read."}${isPlaced && " The front is drawn where it was found in that very frame, not where the fit has it."}</p>`,
  );
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
  const number = Math.max(14, columns / 22);
  const drawing = html`<svg class="still" viewBox="-0.5 -0.5 ${columns} ${rows}" role="img" aria-label="${`Frame ${frame}, ${MOMENTS[moment].toLowerCase()}: ${seen}`}"><image href="${pngAddress(picture)}" x="-0.5" y="-0.5" width="${columns}" height="${rows}" preserveAspectRatio="none"/>${isAlongPath(result) && html`<path class="path" d="M${svgNumber(x1)} ${svgNumber(y1)}L${svgNumber(x2)} ${svgNumber(y2)}"/>`}${fronts.map((place) => drawPlace(place, number, { rows, columns }))}</svg>`;
  const time = `frame ${frame}`;
  return figure(drawing, html`<b>${MOMENTS[moment]}</b>, ${time}: ${seen}`);
}

/** The front ran along a straight path: not along the rays of a circle or the courses of cracks. */
function isAlongPath({ branches, shape }: ReportedResult): boolean {
  return !branches && shape?.measuredAlong !== "radius";
}

function seenText(
  moment: ReportedEventFrame["moment"],
  fronts: readonly ReportedFrontPlace[],
  { status, branches }: ReportedResult,
): string {
  if (fronts.length > 1) return `${fronts.length} ${branches ? "tips are ringed" : "fronts are drawn"}`;
  if (fronts.length === 1) return branches ? "the tip of a crack is ringed" : "the front is drawn";
  if (status === "bounded") return BOUNDED[moment];
  if (status === "not-found" && !branches) return "nothing was found";
  return FOLLOWED[moment];
}

/** A front on a dark rim, so that it shows on bright and dark alike; its number beside it. */
function drawPlace(
  { kind, points = [], centre, radius, number }: ReportedFrontPlace,
  size: number,
  { rows, columns }: { readonly rows: number; readonly columns: number },
): Markup {
  const d = outline(
    { kind, points, ...(centre && { centre }), ...(radius !== undefined && { radius }) },
    Math.min(rows, columns),
  );
  const [x, y] = centre ?? points[0];
  return html`<path class="rim" d="${d}"/><path class="front" d="${d}"/>${
    number !== undefined &&
    html`<text class="number" x="${svgNumber(Math.min(columns - size, x + 0.5 * size))}" y="${svgNumber(Math.max(size, y - 0.3 * size))}" font-size="${svgNumber(size)}">${number}</text>`
  }`;
}

function outline(
  {
    kind,
    points = [],
    centre,
    radius = 0,
  }: Pick<ReportedFrontPlace, "kind" | "points" | "centre" | "radius">,
  side: number,
): string {
  if (kind === "line") return `M${points.map(([x, y]) => `${svgNumber(x)} ${svgNumber(y)}`).join("L")}`;
  const [x, y] = kind === "circle" && centre ? centre : points[0];
  const r = svgNumber(kind === "circle" ? radius : Math.max(3, side / 28));
  return `M${svgNumber(x - Number(r))} ${svgNumber(y)}a${r} ${r} 0 1 0 ${2 * Number(r)} 0a${r} ${r} 0 1 0 ${-2 * Number(r)} 0`;
}
