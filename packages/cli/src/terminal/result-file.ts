import { stat } from "node:fs/promises";
import { join } from "node:path";
import { CliError } from "./cli-error.js";

/** File of the result that a command is about, which is named itself or by its folder.
 *  @param options  texts of the options that name something, too
 *  @throws CliError `invalid-option` where one of them is empty */
export async function resultFile(
  named: string,
  options: Readonly<Record<string, string | undefined>>,
): Promise<string> {
  for (const [what, text] of Object.entries({ "the result": named, ...options }))
    if (text === "") throw new CliError("invalid-option", `${what} must be named, got an empty text`);
  const isFolder = (await stat(named).catch(() => null))?.isDirectory() ?? false;
  return isFolder ? join(named, "result.json") : named;
}
