import {
  budgetRows,
  effectsLeftOut,
  freedomText,
  relativeText,
  sharedEstimate,
  twoDigits,
} from "@frontpace/report/words";
import type { TakeResult } from "@frontpace/take";
import { alignColumns } from "../terminal/align-columns.js";
import { wrapText } from "../terminal/wrap-text.js";

type Speed = Extract<TakeResult, { status: "measured" }>["speed"];

/** Lines shown where the whole budget was not asked for. */
const LARGEST = 3;
/** Characters in a line of running text. */
const LINE_WIDTH = 100;

/** Where the uncertainty comes from, largest first, as lines for a person: the three largest contributions, or the
 *  whole budget and every effect that is not in it, with the reason. */
export function describeBudget(speed: Speed, whole: boolean): string[] {
  return whole ? wholeBudget(speed) : largestLines(speed);
}

function largestLines(speed: Speed): string[] {
  const { budget, notEvaluated = [] } = speed;
  if (budget.every(({ standardUncertainty }) => standardUncertainty === 0)) return [];
  const shown = budgetRows(speed)
    .filter((row) => row.standardUncertainty > 0 || row.isExact)
    .slice(0, LARGEST)
    .map(({ source, isExact, share, uncertainty, type }) =>
      isExact ? `  ${source}: exact` : `  ${source}: ${share} (${uncertainty} m/s, type ${type})`,
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
  const rows = budgetRows(speed).map(({ source, isExact, uncertainty, relative, share, type, freedom }) => [
    source,
    ...(isExact ? ["exact", "", ""] : [uncertainty, relative, share]),
    type,
    freedom,
  ]);
  const table = alignColumns([
    ["", "u, m/s", "of the speed", "of the variance", "type", "degrees of freedom"],
    ...rows,
    [
      "combined",
      twoDigits(speed.standardUncertainty),
      relativeText(speed),
      "",
      "",
      freedomText(speed.degreesOfFreedom),
    ],
  ]);
  const shared = sharedEstimate(speed);
  return [
    "where the uncertainty comes from (u: one standard uncertainty, k = 1):",
    ...table.map((row) => `  ${row}`),
    ...(shared === null ? [] : [`  ${shared}`]),
    ...absentLines(speed),
  ];
}

function absentLines(speed: Speed): string[] {
  const absent = effectsLeftOut(speed);
  if (absent.length === 0) return [];
  return [
    "not evaluated, and not in the interval unless it says so:",
    ...absent.flatMap(({ source, reason }) => wrapText(`  ${source}: ${reason}`, LINE_WIDTH, "    ")),
  ];
}
