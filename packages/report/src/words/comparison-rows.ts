import type { ReportedQuantity } from "./reported-result.js";
import { percentText, threeDigits, wholeNumber, withUnit } from "./with-unit.js";

const NAMES: Readonly<Record<string, readonly [string, (value: number) => string]>> = {
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

const VERDICTS = {
  held: "held",
  exceeded: "exceeded",
  "fell-short": "fell short",
  "not-known": "not known",
} as const;

/** A quantity of a plan against what was observed, in words. */
export interface ComparisonRow {
  readonly name: string;
  readonly planned: string;
  readonly observed: string;
  readonly verdict: string;
  readonly holds: boolean;
  /** Why it is so; null where it held as planned. */
  readonly remark: string | null;
}

/** Quantities of a plan against what was observed, in words. */
export function comparisonRows(quantities: readonly ReportedQuantity[]): ComparisonRow[] {
  return quantities.map((line) => {
    const { quantity, planned, observed, verdict, holds, reason } = line;
    const [, text] = NAMES[quantity];
    const ends = planned === null ? [] : [...new Set([text(planned.low), text(planned.high)])];
    return {
      name: nameOf(line),
      planned: planned === null ? "-" : ends.join(" to "),
      observed: observed === null ? "-" : text(observed),
      verdict: VERDICTS[verdict],
      holds,
      remark: verdict === "held" && reason === "as planned" ? null : `${reason}${certainty(line)}`,
    };
  });
}

/** With what a prediction rests on, so that it is not taken for the whole uncertainty. */
function nameOf({ quantity, label }: ReportedQuantity): string {
  const [name] = NAMES[quantity];
  return label === undefined ? name : `${name} (${label})`;
}

/** What is counted or set has no uncertainty to speak of. */
const SET = new Set(["columns", "rows", "rateHz", "exposureSeconds", "metresPerPixel"]);

function certainty({ quantity, verdict, beyondUncertainty }: ReportedQuantity): string {
  if (SET.has(quantity) || verdict === "held" || verdict === "not-known") return "";
  if (beyondUncertainty === null) return " (how sure that is, is not known)";
  return beyondUncertainty ? " (more than the uncertainties allow)" : "";
}
