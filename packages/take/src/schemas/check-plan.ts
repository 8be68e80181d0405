import { TakeError } from "../take-error.js";
import type { PlanFile } from "../types.js";
import { checkFormat } from "./check-format.js";

/** Checks a value, for instance a plan.json that was read, against the schema of plans.
 *  @throws TakeError `invalid-value` */
export async function checkPlan(value: unknown, where = "plan.json"): Promise<PlanFile> {
  checkFormat(value, where, { format: "frontpace-plan", file: "plan.json", command: "plan" });
  const { planSchema } = await import("./plan-schema.js");
  const checked = planSchema.safeParse(value);
  if (checked.success) return checked.data;
  const issue = checked.error.issues[0];
  const key = issue.path.join(".") || "the whole";
  throw new TakeError(
    "invalid-value",
    `${where}: ${key} does not fit the schema of a plan: ${issue.message}; give the plan.json that frontpace plan wrote`,
    { file: where, key },
  );
}
