import type { Check } from "../row.js";
import { timeRatio } from "../run/contest.js";
import type { Run } from "../run/timed.js";
import { seconds } from "../seconds.js";

/** The ratio that the reading alone would have in place of the command, not judged.
 *  @param over, under  runs of which the times are divided; absent where one could not run */
export function floorCheck(
  what: string,
  over: Readonly<Record<string, readonly Run[]>>,
  under: Readonly<Record<string, readonly Run[]>>,
): Check[] {
  const [a, b] = [Object.values(over)[0], Object.values(under)[0]];
  if (!a || !b) return [];
  const note = `${seconds({ ...over, ...under })}: start, modules, reading and averaging, without any fit`;
  return [{ what, value: timeRatio(a, b), bar: "floor", note }];
}
