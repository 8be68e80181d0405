import { caution } from "@frontpace/report/words";
import { compareTake, programVersion, readPlan, readResult } from "@frontpace/take";
import type { RunContext } from "../terminal/io.js";
import { resultFile } from "../terminal/result-file.js";
import type { CompareArguments } from "./compare-command.js";
import { describeComparison } from "./describe-comparison.js";

/** `frontpace compare`: holds a plan against a result and prints both side by side.
 *  @returns whether the plan held
 *  @throws TakeError, PlannerError */
export async function compareAction(
  planFile: string,
  resultNamed: string,
  args: CompareArguments,
  { stdout }: RunContext,
): Promise<boolean> {
  const plan = await readPlan(planFile);
  const result = await readResult(await resultFile(resultNamed));
  const comparison = compareTake(plan, result);
  const head = {
    format: "frontpace-comparison",
    version: 1,
    program: { name: "frontpace", version: programVersion },
    take: result.take.name,
  };
  const text = args.json
    ? JSON.stringify({ ...head, ...comparison }, null, 2)
    : [...describeComparison(comparison), ...(args.quiet ? [] : ["", caution])].join("\n");
  stdout.write(`${text}\n`);
  return comparison.held;
}
