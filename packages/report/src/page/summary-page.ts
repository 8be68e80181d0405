import { caution } from "../words/caution.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { repeatsSection } from "./repeats-section.js";
import { sortScript } from "./sort-script.js";
import type { ReportedSummary, SummaryExtras } from "./summary-input.js";
import { summaryTable } from "./summary-table.js";
import { summaryWarnings } from "./summary-warnings.js";
import { wholePage } from "./whole-page.js";

/** What the page of a batch has beside those of takes. */
const style = `
.takes img { display: block; width: 7rem; height: 2.6rem; object-fit: fill; image-rendering: pixelated; }
.takes td, .takes th { vertical-align: middle; } .takes tbody th { white-space: nowrap; } .takes p { margin: 0; min-width: 12rem; overflow-wrap: anywhere; }
.takes tbody th.long { white-space: normal; overflow-wrap: anywhere; min-width: 7rem; max-width: 18rem; }
.takes button { all: unset; cursor: pointer; text-decoration: underline dotted; }
.takes button:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
.takes [aria-sort="ascending"] button::after { content: " ↑"; } .takes [aria-sort="descending"] button::after { content: " ↓"; }
@media (max-width: 43rem) { .takes img { width: 3.2rem; } .takes td, .takes th { padding-right: .5rem; } .takes .number { white-space: normal; } }
/* A head that is repeated on the next sheet is painted without the boxes of its buttons. */
@media print { table.takes { break-inside: auto; } .takes p { min-width: 0; } .takes tbody th { white-space: normal; } .takes button { display: contents; } }
`;

/** One self-contained page of a batch: how many takes were measured, every take in a table that sorts, and for the takes of a folder their mean
 *  and spread. The one script that sorts is named by its digest; nothing else runs, and without it the page reads as well.
 *  @param summary  content of a summary.json
 *  @param extras  by name of the take
 *  @returns an HTML document; the same summary and pictures give the same text */
export async function summaryPage(
  summary: ReportedSummary,
  extras: Readonly<Record<string, SummaryExtras>> = {},
): Promise<string> {
  const { counts, takes, repeats, program } = summary;
  const apart = new Set(repeats.flatMap(({ disagreeing }) => disagreeing));
  const together: Markup[] = [];
  for (const [k, one] of repeats.entries()) together.push(await repeatsSection(one, takes, k + 1));
  const title = `${counts.measured} of ${counts.takes} ${counts.takes === 1 ? "take" : "takes"} measured`;
  const others = [
    [counts.bounded, "gave a lower bound only"],
    [counts.notFound, "showed no front"],
    [counts.failed, "failed"],
  ] as const;
  const said = others.filter(([count]) => count > 0).map(([count, what]) => `${count} ${what}`);
  return wholePage({
    title,
    heading: html`<h1><strong>${title}</strong></h1>
${said.length > 0 && html`<p class="lead">Of the others ${said.join(", ")}.</p>`}`,
    sections: [
      section("takes", "The takes", summaryTable(takes, extras, apart)),
      summaryWarnings(takes),
      ...together,
      section(
        "limits",
        "How far to rely on it",
        html`<ul>
<li>This is not an accredited calibration. Each speed is traceable only as far as its length standard and its clock.</li>
<li>That the takes of a folder are repeats of one event is taken from where they lie, not from what they show.</li>
<li>${caution}</li>
<li>People and premises may be visible in the pictures: look at them before you pass this page on.</li>
</ul><p class="small">${program.name} ${program.version}</p>`,
      ),
    ],
    style,
    script: sortScript,
  });
}
