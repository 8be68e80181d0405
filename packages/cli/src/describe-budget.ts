import type { TakeResult } from "@frontpace/take";
import { alignColumns } from "./align-columns.js";
import { twoDigits } from "./round.js";
import { wrapText } from "./wrap-text.js";

type Speed = Extract<TakeResult, { status: "measured" }>["speed"];
type BudgetLine = Speed["budget"][number];

/** Lines shown where the whole budget was not asked for. */
const LARGEST = 3;
/** Characters in a line of running text. */
const LINE_WIDTH = 100;

/** Where the uncertainty comes from, largest first, as lines for a person: the three largest contributions, or the
 *  whole budget and every effect that is not in it, with the reason. */
export function describeBudget(speed: Speed, whole: boolean): string[] {
  return whole ? wholeBudget(speed) : largestLines(speed);
}

function largestLines({ budget, notEvaluated = [] }: Speed): string[] {
  const variance = varianceOf(budget);
  if (variance === 0) return [];
  const shown = bySize(budget)
    .filter((line) => line.standardUncertainty > 0 || isExact(line))
    .slice(0, LARGEST)
    .map((line) =>
      isExact(line)
        ? `  ${line.source}: exact`
        : `  ${line.source}: ${shareOf(line, variance)} (${twoDigits(line.standardUncertainty)} m/s, type ${line.type})`,
    );
  const smaller = budget.length - shown.length;
  const besides = [
    ...(smaller > 0 ? [`${smaller} smaller`] : []),
    ...(notEvaluated.length > 0 ? [`${notEvaluated.length} not evaluated`] : []),
  ];
  return [
    "where the uncertainty comes from (share of the variance):",
    ...shown,
    ...(besides.length > 0 ? [`  besides: ${besides.join(", ")} (--budget shows them)`] : []),
  ];
}

function wholeBudget(speed: Speed): string[] {
  const { budget, value, standardUncertainty } = speed;
  const variance = varianceOf(budget);
  const rows = bySize(budget).map((line) => [
    line.source,
    ...(isExact(line)
      ? ["exact", "", ""]
      : [
          twoDigits(line.standardUncertainty),
          line.relative === undefined ? "" : `${twoDigits(100 * line.relative)} %`,
          variance === 0 ? "" : shareOf(line, variance),
        ]),
    line.type,
    freedomOf(line.degreesOfFreedom),
  ]);
  const relative = value > 0 ? `${twoDigits((100 * standardUncertainty) / value)} %` : "";
  const table = alignColumns([
    ["", "u, m/s", "of the speed", "of the variance", "type", "degrees of freedom"],
    ...rows,
    ["combined", twoDigits(standardUncertainty), relative, "", "", freedomOf(speed.degreesOfFreedom)],
  ]);
  const split = budget.some(({ source }) => source === "wander");
  return [
    "where the uncertainty comes from (u: one standard uncertainty, k = 1):",
    ...table.map((row) => `  ${row}`),
    ...(split ? ["  fit and wander are parts of one estimate and count once in the degrees of freedom"] : []),
    ...absentLines(speed),
  ];
}

function absentLines({ missing, notEvaluated = [] }: Speed): string[] {
  const absent = [
    ...missing.map((source) => ({ source, reason: "its uncertainty was not stated" })),
    ...notEvaluated,
  ];
  if (absent.length === 0) return [];
  return [
    "not evaluated, and not in the interval unless it says so:",
    ...absent.flatMap(({ source, reason }) => wrapText(`  ${source}: ${reason}`, LINE_WIDTH, "    ")),
  ];
}

function varianceOf(budget: readonly BudgetLine[]): number {
  return budget.reduce((sum, line) => sum + line.standardUncertainty ** 2, 0);
}

function bySize(budget: readonly BudgetLine[]): BudgetLine[] {
  return [...budget].sort((a, b) => b.standardUncertainty - a.standardUncertainty);
}

/** A rate or scale stated with +-0 has no share, nor has a length standard. */
function isExact({ source, standardUncertainty }: BudgetLine): boolean {
  return ["rate", "scale", "scale: length standard"].includes(source) && standardUncertainty === 0;
}

function shareOf({ standardUncertainty }: BudgetLine, variance: number): string {
  const share = (100 * standardUncertainty ** 2) / variance;
  if (share > 0 && share < 0.1) return "under 0.1 %";
  return `${share.toFixed(share < 10 ? 1 : 0)} %`;
}

/** Beyond a thousand Student's factor is the normal one to three digits. */
function freedomOf(degreesOfFreedom: number | null): string {
  if (degreesOfFreedom === null) return "infinite";
  if (degreesOfFreedom > 1000) return "over 1000";
  return degreesOfFreedom.toFixed(Number.isInteger(degreesOfFreedom) || degreesOfFreedom >= 100 ? 0 : 1);
}
