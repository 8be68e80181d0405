import { basename } from "node:path";
import { checkPlan } from "../schemas/check-plan.js";
import { checkResult } from "../schemas/check-result.js";
import type { PlanFile, TakeResult } from "../types.js";
import { readJsonFile } from "./read-json-file.js";

/** Reads and checks a plan.json.
 *  @throws TakeError `file-unreadable`, `file-not-json`, `invalid-value` */
export async function readPlan(file: string): Promise<PlanFile> {
  return checkPlan(await readJsonFile(file, "plan"), basename(file));
}

/** Reads and checks a result.json.
 *  @throws TakeError `file-unreadable`, `file-not-json`, `invalid-value` */
export async function readResult(file: string): Promise<TakeResult> {
  return checkResult(await readJsonFile(file, "result"), basename(file));
}
