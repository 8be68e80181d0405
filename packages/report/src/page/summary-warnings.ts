import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import type { SummaryTake } from "./summary-input.js";
import { warningText } from "./warnings-section.js";

type Warning = SummaryTake["warnings"][number];

/** So many takes of a warning are named; of more it is said how many. */
const MOST_NAMED = 8;

/** The warnings of a take but what the answer or why there is none says already. */
export function furtherWarnings({ speed, lowerBound, notFound, warnings }: SummaryTake): Warning[] {
  const { complete } = speed ?? lowerBound ?? { complete: true };
  const said = new Set([notFound?.reason, ...(complete ? [] : ["reading-only"])]);
  return warnings.filter(({ code }) => !said.has(code));
}

/** The code of a warning, which leads to its words. */
export function warningLink({ code }: Warning): Markup {
  return html`<a href="#${idOf(code)}">${code}</a>`;
}

/** The warnings of all takes in words, by code, the same words once with the takes that they were said of. */
export function summaryWarnings(takes: readonly SummaryTake[]): Markup | null {
  const said = new Map<string, { readonly warning: Warning; readonly of: string[] }>();
  for (const take of takes)
    for (const warning of furtherWarnings(take)) {
      const key = `${warning.code} ${warning.message}`;
      const entry = said.get(key) ?? { warning, of: [] };
      entry.of.push(take.take);
      said.set(key, entry);
    }
  if (said.size === 0) return null;
  const entries = [...said].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, entry]) => entry);
  const isFirst = (k: number) => entries[k].warning.code !== entries[k - 1]?.warning.code;
  return section(
    "warnings",
    "Warnings",
    html`<ul class="warnings">${entries.map(
      ({ warning, of }, k) =>
        html`<li${isFirst(k) && html` id="${idOf(warning.code)}"`}>${warningText(warning)} <span class="small">${namesOf(of)}</span></li>`,
    )}</ul>`,
  );
}

const idOf = (code: string): string => `warning-${code}`;

function namesOf(takes: readonly string[]): string {
  const named = takes.slice(0, MOST_NAMED).join(", ");
  const more = takes.length - MOST_NAMED;
  return more > 0 ? `${named} and ${more} more.` : `${named}.`;
}
