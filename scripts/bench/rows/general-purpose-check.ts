import type { Check } from "../row.js";
import { timeRatio } from "../run/contest.js";
import type { Run } from "../run/timed.js";
import { seconds } from "../seconds.js";

/** How many times as fast as the script of general-purpose libraries the command is.
 *  @param script  absent where it could not run */
export function generalPurposeCheck(
  what: string,
  measure: readonly Run[],
  script: readonly Run[] | undefined,
  atLeast: number,
): Check {
  const bar = { atLeast, unit: "times" } as const;
  if (!script) return { what, value: null, bar, note: "skipped: python3-opencv is not installed" };
  return { what, value: timeRatio(script, measure), bar, note: seconds({ measure, script }) };
}
