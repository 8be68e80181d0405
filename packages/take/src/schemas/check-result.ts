import type { TakeResult } from "../types.js";
import { checkWritten } from "./check-written.js";

/** Checks a value, for instance a result.json that was read, against the schema of results.
 *  @throws TakeError `invalid-value` */
export async function checkResult(value: unknown, where = "result.json"): Promise<TakeResult> {
  return checkWritten(
    value,
    where,
    "frontpace-result",
    async () => (await import("./result-schema.js")).resultSchema,
  );
}
