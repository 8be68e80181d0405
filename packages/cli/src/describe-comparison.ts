import type { Comparison } from "@frontpace/planner";
import { alignColumns } from "./align-columns.js";
import { percentText, threeDigits, wholeNumber, withUnit } from "./with-unit.js";
import { wrapText } from "./wrap-text.js";

type Line = Comparison["quantities"][number];

/** Characters in a line of running text. */
const LINE_WIDTH = 100;

const NAMES: Readonly<Record<Line["quantity"], readonly [string, (value: number) => string]>> = {
  columns: ["columns", wholeNumber],
  rows: ["rows", wholeNumber],
  rateHz: ["frames/s", wholeNumber],
  exposureSeconds: ["exposure", (value) => withUnit(value, "s")],
  metresPerPixel: ["one pixel", (value) => withUnit(value, "m")],
  speed: ["speed, m/s", threeDigits],
  framesAcross: ["frames across", threeDigits],
  pixelsPerFrame: ["px/frame", threeDigits],
  blurPixels: ["blur, px", threeDigits],
  stepToNoise: ["step to noise", threeDigits],
  relativeUncertainty: ["uncertainty", percentText],
};

/** A plan against what was observed, side by side, why it differs, and what to set for the next take, as lines for a person. */
export function describeComparison({ held, quantities, lowestRateHz }: Comparison): string[] {
  const next = quantities.flatMap((line) => (line.next === null ? [] : [line.next]));
  return [
    `the plan ${held ? "held" : "did not hold"}:`,
    ...alignColumns([["", "", "planned", "observed", ""], ...quantities.map(rowOf)]),
    ...quantities
      .filter(isWorthSaying)
      .flatMap((line) => wrapText(`${nameOf(line)}: ${line.reason}${certainty(line)}`, LINE_WIDTH, "  ")),
    ...(lowestRateHz === null
      ? []
      : [
          `the lowest rate that would measure it, if it ran at the bound: ${wholeNumber(lowestRateHz)} frames/s`,
        ]),
    ...(next.length === 0 ? [] : ["for the next take:", ...next.map((text) => `  ${text}`)]),
  ];
}

/** With what a prediction rests on, so that it is not taken for the whole uncertainty. */
function nameOf({ quantity, label }: Line): string {
  const [name] = NAMES[quantity];
  return label === undefined ? name : `${name} (${label})`;
}

function rowOf(line: Line): string[] {
  const { quantity, planned, observed, verdict, holds } = line;
  const [, text] = NAMES[quantity];
  const ends = planned === null ? [] : [...new Set([text(planned.low), text(planned.high)])];
  return [
    holds ? "" : "x",
    nameOf(line),
    planned === null ? "-" : ends.join(" to "),
    observed === null ? "-" : text(observed),
    { held: "held", exceeded: "exceeded", "fell-short": "fell short", "not-known": "not known" }[verdict],
  ];
}

/** What held as planned has said so already. */
function isWorthSaying({ verdict, reason }: Line): boolean {
  return verdict !== "held" || reason !== "as planned";
}

function certainty({ verdict, beyondUncertainty }: Line): string {
  if (verdict === "held" || verdict === "not-known") return "";
  if (beyondUncertainty === null) return " (how sure that is, is not known)";
  return beyondUncertainty ? " (more than the uncertainties allow)" : "";
}
