import { csvText } from "@frontpace/take";
import type { BatchSummary } from "./assemble-summary.js";

/** What makes a spreadsheet program take a cell for a formula, also in the wide forms of East Asian text. */
const FORMULA = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;
/** What asks for quotes: also what some programs part cells at in place of commas. */
const QUOTED = /[",;\t\r\n]/;

/** A row a take, comma-separated with CRLF (RFC 4180). A text that a spreadsheet program would run as a formula has an apostrophe ahead, numbers
 *  are as they are; summary.json has all texts unchanged.
 *  @see OWASP, CSV Injection (owasp.org/www-community/attacks/CSV_Injection) */
export function summaryCsv({ takes }: BatchSummary): string {
  return csvText(
    "take,status,speed_m_s,u_speed_m_s,half_width_95_m_s,complete,at_least_m_s,why_not,warnings,same_event_as",
    takes.map(({ take, status, speed, lowerBound, notFound, error, warnings, sameEventAs }) => [
      cell(take),
      status,
      speed?.value ?? "",
      speed?.standardUncertainty ?? "",
      speed?.expandedUncertainty ?? "",
      speed?.complete ?? lowerBound?.complete ?? "",
      lowerBound?.value ?? "",
      cell(error?.message ?? notFound?.message ?? ""),
      cell(warnings.map(({ code }) => code).join(" ")),
      cell(sameEventAs ?? ""),
    ]),
  );
}

function cell(text: string): string {
  const shown = FORMULA.test(text) ? `'${text}` : text;
  return QUOTED.test(shown) ? `"${shown.replaceAll('"', '""')}"` : shown;
}
