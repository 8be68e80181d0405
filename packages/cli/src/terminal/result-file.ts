import { open, readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { TakeError } from "@frontpace/take";
import { CliError } from "./cli-error.js";
import { resultNear } from "./result-near.js";

/** Bytes in which a file of JSON text begins with its object. */
const HEAD = 64;

/** File of the result that a command is about, which is named itself or by its folder.
 *  @param options  texts of the options that name something, too
 *  @throws CliError `invalid-option` where one of them is empty; TakeError `file-unreadable` where a folder holds no result, or where what is
 *    named is none and it is known what was meant */
export async function resultFile(
  named: string,
  options: Readonly<Record<string, string | undefined>> = {},
): Promise<string> {
  for (const [what, text] of Object.entries({ "the result": named, ...options }))
    if (text === "") throw new CliError("invalid-option", `${what} must be named, got an empty text`);
  const found = await stat(named).catch(() => null);
  if (found?.isDirectory()) {
    const names: readonly string[] = await readdir(named).catch(() => []);
    if (names.includes("result.json")) return join(named, "result.json");
  } else if (found && (await mayHoldResult(named))) return named;
  const hint = await resultNear(named);
  // The reader says why the file cannot be read.
  if (hint === null && !found?.isDirectory()) return named;
  const what = found?.isDirectory() ? "holds no result.json" : found ? "is no result" : "does not exist";
  const message = `${named} ${what}: ${hint ?? "give the folder that frontpace measure wrote, or the result.json in it"}`;
  throw new TakeError("file-unreadable", message, { file: named });
}

/** Whether a file is JSON text by its name or by what it begins with: the reader says what is wrong with it. */
async function mayHoldResult(path: string): Promise<boolean> {
  if (path.toLowerCase().endsWith(".json")) return true;
  const file = await open(path).catch(() => null);
  if (file === null) return true;
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD), 0, HEAD, 0);
    return /^\uFEFF?\s*\{/.test(buffer.toString("utf8", 0, bytesRead));
  } finally {
    await file.close();
  }
}
