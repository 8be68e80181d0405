import { TakeError } from "../take-error.js";
import type { TakeResult } from "../types.js";
import { checkFormat } from "./check-format.js";

/** Checks a value, for instance a result.json that was read, against the schema of results.
 *  @throws TakeError `invalid-value` */
export async function checkResult(value: unknown, where = "result.json"): Promise<TakeResult> {
  checkFormat(value, where, { format: "frontpace-result", file: "result.json", command: "measure" });
  const { resultSchema } = await import("./result-schema.js");
  const checked = resultSchema.safeParse(value);
  if (checked.success) return checked.data;
  const issue = checked.error.issues[0];
  const key = issue.path.join(".") || "the whole";
  throw new TakeError("invalid-value", `${where}: ${key} does not fit the schema: ${issue.message}`, {
    file: where,
    key,
  });
}
