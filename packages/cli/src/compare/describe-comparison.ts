import type { Comparison } from "@frontpace/planner";
import { comparisonRows, wholeNumber } from "@frontpace/report/words";
import { alignColumns } from "../terminal/align-columns.js";
import { wrapText } from "../terminal/wrap-text.js";

/** Characters in a line of running text. */
const LINE_WIDTH = 100;

/** A plan against what was observed, side by side, why it differs, and what to set for the next take, as lines for a person. */
export function describeComparison({ held, quantities, lowestRateHz }: Comparison): string[] {
  const next = quantities.flatMap((line) => (line.next === null ? [] : [line.next]));
  const rows = comparisonRows(quantities);
  return [
    `the plan ${held ? "held" : "did not hold"}:`,
    ...alignColumns([
      ["", "", "planned", "observed", ""],
      ...rows.map(({ name, planned, observed, verdict, holds }) => [
        holds ? "" : "x",
        name,
        planned,
        observed,
        verdict,
      ]),
    ]),
    ...rows.flatMap(({ name, remark }) =>
      remark === null ? [] : wrapText(`${name}: ${remark}`, LINE_WIDTH, "  "),
    ),
    ...(lowestRateHz === null
      ? []
      : [
          `the lowest rate that would measure it, if it ran at the bound: ${wholeNumber(lowestRateHz)} frames/s`,
        ]),
    ...(next.length === 0
      ? []
      : [
          "for the next take:",
          ...next.flatMap((text) => wrapText(text, LINE_WIDTH - 2, "  ").map((line) => `  ${line}`)),
        ]),
  ];
}
