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
    html`<ul class="warnings">${said.map((warning) => html`<li>${warningText(warning)}</li>`)}</ul>`,
  );
}

/** Its code, by which it is found in the documentation, and its words. */
export function warningText({ code, message }: ReportedResult["warnings"][number]): Markup {
  return html`<code>${code}</code> ${sentence(message)}`;
}
