import { type Comparison, comparePlan, PlannerError } from "@frontpace/planner";
import type { PlanFile, TakeResult } from "../types.js";
import { observedTake } from "./observed-take.js";
import { planHash } from "./plan-hash.js";

/** Holds a plan against the result of its take.
 *  @throws PlannerError `different-takes` where the plan names another take, or the result was measured with another plan */
export function compareTake(plan: PlanFile, result: TakeResult): Comparison {
  const { planHash: measuredWith, name } = result.take;
  if (measuredWith !== undefined && measuredWith !== planHash(plan))
    throw new PlannerError(
      "different-takes",
      `the result of ${name} was measured with another plan than this one: name the plan and the result of one take`,
      { key: "plan" },
    );
  return comparePlan(plan, observedTake(result));
}
