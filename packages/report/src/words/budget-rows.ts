import type { ReportedBudgetLine, ReportedSpeed } from "./reported-result.js";
import { twoDigits } from "./round.js";

/** One line of an uncertainty budget, in words. */
export interface BudgetRow {
  readonly source: string;
  /** Stated with +-0: it has no size and no share. */
  readonly isExact: boolean;
  /** Contribution to the speed, m/s. */
  readonly standardUncertainty: number;
  /** The same to two digits. */
  readonly uncertainty: string;
  /** Of the speed; empty where that is zero. */
  readonly relative: string;
  /** Of the variance; empty where that is zero. */
  readonly share: string;
  readonly type: "A" | "B";
  readonly freedom: string;
}

/** The lines of a budget in words, largest first. */
export function budgetRows({ budget }: Pick<ReportedSpeed, "budget">): BudgetRow[] {
  const variance = budget.reduce((sum, line) => sum + line.standardUncertainty ** 2, 0);
  return [...budget]
    .sort((a, b) => b.standardUncertainty - a.standardUncertainty)
    .map((line) => ({
      source: line.source,
      isExact: isExact(line),
      standardUncertainty: line.standardUncertainty,
      uncertainty: twoDigits(line.standardUncertainty),
      relative: line.relative === undefined ? "" : `${twoDigits(100 * line.relative)} %`,
      share: variance === 0 ? "" : shareOf(line, variance),
      type: line.type,
      freedom: freedomText(line.degreesOfFreedom),
    }));
}

/** A combined uncertainty relative to its speed; empty where that is zero. */
export function relativeText({ value, standardUncertainty }: ReportedSpeed): string {
  return value > 0 ? `${twoDigits((100 * standardUncertainty) / value)} %` : "";
}

/** Effects that no line of the budget holds, and why. */
export function effectsLeftOut({
  missing,
  notEvaluated = [],
}: ReportedSpeed): readonly { readonly source: string; readonly reason: string }[] {
  return [
    ...missing.map((source) => ({ source, reason: "its uncertainty was not stated" })),
    ...notEvaluated,
  ];
}

/** Said where a budget holds both, which are parts of one estimate. */
export function sharedEstimate({ budget }: Pick<ReportedSpeed, "budget">): string | null {
  if (!budget.some(({ source }) => source === "wander")) return null;
  return "fit and wander are parts of one estimate and count once in the degrees of freedom";
}

/** Degrees of freedom; beyond a thousand Student's factor is the normal one to three digits. */
export function freedomText(degreesOfFreedom: number | null): string {
  if (degreesOfFreedom === null) return "infinite";
  if (degreesOfFreedom > 1000) return "over 1000";
  return degreesOfFreedom.toFixed(Number.isInteger(degreesOfFreedom) || degreesOfFreedom >= 100 ? 0 : 1);
}

/** A rate or scale stated with +-0 has no share, nor has a length standard. */
function isExact({ source, standardUncertainty }: ReportedBudgetLine): boolean {
  return ["rate", "scale", "scale: length standard"].includes(source) && standardUncertainty === 0;
}

function shareOf({ standardUncertainty }: ReportedBudgetLine, variance: number): string {
  const share = (100 * standardUncertainty ** 2) / variance;
  if (share > 0 && share < 0.1) return "under 0.1 %";
  return `${share.toFixed(share < 10 ? 1 : 0)} %`;
}
