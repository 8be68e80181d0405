import { csvText } from "@frontpace/take";
import type { BatchSummary } from "./assemble-summary.js";

/** A row a take, comma-separated with CRLF (RFC 4180). */
export function summaryCsv({ takes }: BatchSummary): string {
  return csvText(
    "take,status,speed_m_s,u_speed_m_s,half_width_95_m_s,complete,at_least_m_s,why_not,warnings",
    takes.map(({ take, status, speed, lowerBound, notFound, error, warnings }) => [
      quoted(take),
      status,
      speed?.value ?? "",
      speed?.standardUncertainty ?? "",
      speed?.expandedUncertainty ?? "",
      speed?.complete ?? lowerBound?.complete ?? "",
      lowerBound?.value ?? "",
      quoted(error?.message ?? notFound?.message ?? ""),
      quoted(warnings.join(" ")),
    ]),
  );
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
