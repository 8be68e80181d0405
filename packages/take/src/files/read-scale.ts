import { basename } from "node:path";
import { TakeError } from "../take-error.js";
import type { ScaleFile } from "../types.js";
import { readJsonFile } from "./read-json-file.js";

/** Reads and checks a scale.json.
 *  @throws TakeError `file-unreadable`, `file-not-json`, `invalid-value` */
export async function readScale(file: string): Promise<ScaleFile> {
  return checkScale(await readJsonFile(file, "calibration"), basename(file));
}

/** Checks a value against the schema of scale.json.
 *  @throws TakeError `invalid-value` */
export async function checkScale(value: unknown, where = "scale.json"): Promise<ScaleFile> {
  const { scaleFileSchema } = await import("../schemas/scale-schema.js");
  const checked = scaleFileSchema.safeParse(value);
  if (checked.success) return checked.data;
  const issue = checked.error.issues[0];
  const key = issue.path.join(".") || "the whole";
  throw new TakeError(
    "invalid-value",
    `${where}: ${key} does not fit a scale.json: ${issue.message}; name the file that frontpace calibrate wrote`,
    { file: where, key },
  );
}
