import { dirname, resolve } from "node:path";
import { readPlan } from "../files/read-plan.js";
import { takeFileOf } from "../files/read-take-file.js";
import type { MeasureOptions, PlanFile, TakeFile } from "../types.js";

/** The plan of a take: that which the options name, relative to the working folder, or else take.json, relative to its own.
 *  @param take  folder or file of the take; null where the frames are open already
 *  @returns null where none is named
 *  @throws TakeError `file-unreadable`, `file-not-json`, `invalid-value` */
export async function planOfTake(
  take: string | null,
  options: MeasureOptions,
  file: TakeFile | null,
): Promise<PlanFile | null> {
  if (options.plan !== undefined) return readPlan(options.plan);
  if (take === null || file?.plan === undefined) return null;
  return readPlan(resolve(dirname(await takeFileOf(take)), file.plan));
}
