import type { ReportedResult } from "../words/reported-result.js";
import { section } from "./figure.js";
import { html, type Markup } from "./html.js";
import { sentence } from "./typeset.js";

/** The warnings in words; why nothing was found is the answer itself, and is not said again. */
export function warningsSection({ warnings, notFound }: ReportedResult): Markup | null {
  const said = warnings.filter(({ code }) => code !== notFound?.reason);
  if (said.length === 0) return null;
  return section(
    "warnings",
    said.length === 1 ? "Warning" : "Warnings",
    html`<ul class="warnings">${said.map(({ code, message }) => html`<li><code>${code}</code> ${sentence(message)}</li>`)}</ul>`,
  );
}
