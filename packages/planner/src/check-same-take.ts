import type { PlanCompared } from "./comparison-types.js";
import { PlannerError } from "./planner-error.js";

/** Holds the take that a plan names against one at hand.
 *  @throws PlannerError `different-takes` */
export function checkSameTake({ take }: Pick<PlanCompared, "take">, name: string): void {
  if (take === null || take === name) return;
  throw new PlannerError(
    "different-takes",
    `the plan was made for the take ${take}, and this one is ${name}: name plan and take of one name, or plan with the name ${name}`,
    { key: "plan", value: name },
  );
}
