import { basename } from "node:path";
import { checkWritten } from "../schemas/check-written.js";
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
  return checkWritten(
    value,
    where,
    "frontpace-scale",
    async () => (await import("../schemas/scale-schema.js")).scaleFileSchema,
  );
}
