import { readFileSync, type Stats, statSync } from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { checkKeys } from "../schemas/check-keys.js";
import { TakeError } from "../take-error.js";
import type { TakeFile } from "../types.js";

/** Reads and checks the take.json among the stills of a folder, or NAME.take.json beside a file NAME.npy.
 *  @returns null where there is none
 *  @throws TakeError `take-file-unreadable`, `take-file-not-json`, `unknown-key`, `invalid-value` */
export async function readTakeFile(take: string): Promise<TakeFile | null> {
  const file = await takeFileOf(take);
  const name = basename(file) === "take.json" ? `${basename(take)}/take.json` : basename(file);
  let text: string;
  try {
    // Small, and asked for often: to be told of it in its turn takes many times as long as the answer.
    text = readFileSync(file, "utf8");
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code;
    if (reason === "ENOENT" || reason === "ENOTDIR") return null;
    const message = `${name} cannot be read (${reason}): make it a readable file, or remove it`;
    throw new TakeError("take-file-unreadable", message, { file }, { cause: error });
  }
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const message = `${basename(file)} is not valid JSON (${(error as Error).message}): correct it, or remove it`;
    throw new TakeError("take-file-not-json", message, { file }, { cause: error });
  }
  return checkTakeFile(value, basename(file));
}

/** Where the take.json of a folder, or of a file of frames, stands or would stand. */
export async function takeFileOf(take: string): Promise<string> {
  const isFile = statOf(take)?.isFile() ?? false;
  return isFile ? join(dirname(take), `${basename(take, extname(take))}.take.json`) : join(take, "take.json");
}

function statOf(path: string): Stats | null {
  try {
    return statSync(path);
  } catch {
    return null;
  }
}

/** Checks a value against the schema of take.json.
 *  @throws TakeError `unknown-key`, `invalid-value` */
export async function checkTakeFile(value: unknown, where = "take.json"): Promise<TakeFile> {
  const { takeFileSchema, takeRules } = await import("../schemas/take-schema.js");
  return checkKeys(takeFileSchema, takeRules, value, where);
}
