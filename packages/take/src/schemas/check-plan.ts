import type { PlanFile } from "../types.js";
import { checkWritten } from "./check-written.js";

/** Checks a value, for instance a plan.json that was read, against the schema of plans.
 *  @throws TakeError `invalid-value` */
export async function checkPlan(value: unknown, where = "plan.json"): Promise<PlanFile> {
  return checkWritten(
    value,
    where,
    "frontpace-plan",
    async () => (await import("./plan-schema.js")).planSchema,
  );
}
