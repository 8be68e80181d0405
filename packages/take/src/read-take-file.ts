import { readFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { checkKeys } from "./check-keys.js";
import { TakeError } from "./take-error.js";
import type { TakeFile } from "./types.js";

/** Reads and checks the take.json beside the stills.
 *  @returns null where the folder has none
 *  @throws TakeError `take-file-unreadable`, `take-file-not-json`, `unknown-key`, `invalid-value` */
export async function readTakeFile(folder: string): Promise<TakeFile | null> {
  const file = join(folder, "take.json");
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code;
    if (reason === "ENOENT" || reason === "ENOTDIR") return null;
    const message = `${basename(folder)}/take.json cannot be read (${reason}): make it a readable file, or remove it`;
    throw new TakeError("take-file-unreadable", message, { file }, { cause: error });
  }
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const message = `take.json is not valid JSON (${(error as Error).message}): correct it, or remove it`;
    throw new TakeError("take-file-not-json", message, { file }, { cause: error });
  }
  return checkTakeFile(value);
}

/** Checks a value against the schema of take.json.
 *  @throws TakeError `unknown-key`, `invalid-value` */
export async function checkTakeFile(value: unknown, where = "take.json"): Promise<TakeFile> {
  const { takeFileSchema, takeRules } = await import("./take-schema.js");
  return checkKeys(takeFileSchema, takeRules, value, where);
}
