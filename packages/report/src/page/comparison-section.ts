import { comparisonRows } from "../words/comparison-rows.js";
import type { ReportedResult } from "../words/reported-result.js";
import { wholeNumber } from "../words/with-unit.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { sentence, typeset } from "./typeset.js";

/** The plan against what was observed. */
export function comparisonSection({ comparison }: ReportedResult): Markup | null {
  if (!comparison) return null;
  const { held, quantities, lowestRateHz } = comparison;
  const rows = comparisonRows(quantities);
  const next = quantities.flatMap((line) => line.next ?? []);
  return section(
    "plan",
    `Planned and observed: the plan ${held ? "held" : "did not hold"}`,
    html`<div class="scroll" tabindex="0" role="region" aria-label="Table of the plan against what was observed"><table><thead><tr><th scope="col">quantity</th><th scope="col" class="number">planned</th><th scope="col" class="number">observed</th><th scope="col">verdict</th><th scope="col">why</th></tr></thead><tbody>${rows.map(
      ({ name, planned, observed, verdict, holds, remark }) =>
        html`<tr class="${holds ? "" : "broken"}"><th scope="row">${name}</th><td class="number">${typeset(planned)}</td><td class="number">${typeset(observed)}</td><td class="verdict">${holds ? "" : html`<span aria-hidden="true">✕ </span>`}${verdict}</td><td>${remark === null ? "" : typeset(remark)}</td></tr>`,
    )}</tbody></table></div>`,
    lowestRateHz !== null &&
      html`<p>The lowest rate that would measure it, if it ran at the bound: ${wholeNumber(lowestRateHz)} frames/s.</p>`,
    next.length > 0 &&
      html`<h3>For the next take</h3><ul>${next.map((text) => html`<li>${sentence(text)}</li>`)}</ul>`,
  );
}
