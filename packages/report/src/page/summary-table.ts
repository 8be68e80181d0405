import { readingText } from "../words/front-text.js";
import { roundDown, roundPair } from "../words/round.js";
import { html, type Markup } from "./html.js";
import { pngAddress } from "./picture-data.js";
import { amount } from "./quantity.js";
import type { SummaryExtras, SummaryTake } from "./summary-input.js";
import { furtherWarnings, warningLink } from "./summary-warnings.js";
import { sentence, typeset } from "./typeset.js";

const statuses = {
  measured: "measured",
  bounded: "bounded",
  "not-found": "not found",
  failed: "failed",
} as const satisfies Record<SummaryTake["status"], string>;

/** Letters of a name in one line: a longer one would push the speeds out of sight. */
const LONGEST_NAME = 28;

/** Every take in a row: its streak, its name, its speed, and why there is none.
 *  @param extras  by name of the take
 *  @param apart  takes that disagree with the others of their folder */
export function summaryTable(
  takes: readonly SummaryTake[],
  extras: Readonly<Record<string, SummaryExtras>>,
  apart: ReadonlySet<string>,
): Markup {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="table of the takes"><table class="sortable takes">
<thead><tr><th scope="col">Streak</th><th scope="col" data-sorts="1">Take</th><th scope="col" class="number" data-sorts="1">Speed, m/s</th><th scope="col" class="number" data-sorts="1">±, m/s (95\u202f%)</th><th scope="col" data-sorts="1">Outcome</th><th scope="col">Remarks</th></tr></thead>
<tbody>${takes.map((take) => row(take, extras[take.take] ?? {}, apart))}</tbody></table></div>`;
}

function row(take: SummaryTake, { picture, page }: SummaryExtras, apart: ReadonlySet<string>): Markup {
  const { speed, lowerBound } = take;
  const rounded = speed && roundPair(speed.value, speed.expandedUncertainty);
  const least = lowerBound && html`at least ${amount(lowerBound.value, roundDown(lowerBound.value))}`;
  const shown = speed && rounded ? amount(speed.value, rounded.value) : least;
  return html`<tr${take.status === "failed" && html` class="broken"`}>
<td>${picture && html`<img src="${pngAddress(picture)}" alt="streak of ${take.take}">`}</td>
<th scope="row" data-key="${take.take}"${take.take.length > LONGEST_NAME && html` class="long"`}>${page ? html`<a href="${page}">${take.take}</a>` : take.take}</th>
<td class="number" data-key="${speed?.value ?? lowerBound?.value ?? ""}">${shown}</td>
<td class="number" data-key="${speed?.expandedUncertainty ?? ""}">${speed && rounded && amount(speed.expandedUncertainty, rounded.halfWidth)}</td>
<td>${statuses[take.status]}</td>
<td>${remarks(take, apart)}</td></tr>`;
}

function remarks(take: SummaryTake, apart: ReadonlySet<string>): Markup[] {
  const { speed, lowerBound, notFound, error, sameEventAs } = take;
  const why = error ? ended(error.message) : notFound && sentence(notFound.message);
  const found = speed ?? lowerBound;
  const links = furtherWarnings(take).map((warning, k) => html`${k > 0 && ", "}${warningLink(warning)}`);
  return [
    apart.has(take.take) && "Disagrees with the others of its folder.",
    sameEventAs !== null && `Frames of the same event as ${sameEventAs}: not counted in a mean.`,
    why,
    found?.complete === false && readingText(found.missing),
    links.length > 0 && html`${links.length > 1 ? "Warnings" : "Warning"}: ${links}.`,
  ]
    .filter((remark) => remark !== false && remark !== null)
    .map((remark) => html`<p>${remark}</p>`);
}

/** With a full stop; it may begin with the name of a file, which gets no capital letter. */
function ended(text: string): string {
  return `${typeset(text)}${/[.!?]$/.test(text) ? "" : "."}`;
}
