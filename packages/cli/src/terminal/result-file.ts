import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { TakeError } from "@frontpace/take";
import { CliError } from "./cli-error.js";
import { defaultFolder } from "./output-folder.js";

/** File of the result that a command is about, which is named itself or by its folder.
 *  @param options  texts of the options that name something, too
 *  @throws CliError `invalid-option` where one of them is empty; TakeError `file-unreadable` where a folder holds no result */
export async function resultFile(
  named: string,
  options: Readonly<Record<string, string | undefined>> = {},
): Promise<string> {
  for (const [what, text] of Object.entries({ "the result": named, ...options }))
    if (text === "") throw new CliError("invalid-option", `${what} must be named, got an empty text`);
  const isFolder = (await stat(named).catch(() => null))?.isDirectory() ?? false;
  if (!isFolder) return named;
  if (await holdsResult(named)) return join(named, "result.json");
  const message = `${named} holds no result.json: ${await instead(named)}`;
  throw new TakeError("file-unreadable", message, { file: named });
}

/** What to give in place of a folder without a result: one of the takes of a batch, or what was measured of the take that it is. */
async function instead(folder: string): Promise<string> {
  const own = await defaultFolder(folder);
  for (const batch of [folder, own]) {
    const result = await firstOfBatch(join(batch, "summary.json"));
    if (result !== null)
      return `each take of a batch has its own, so give one of them, for example ${join(batch, result)}`;
  }
  if (await holdsResult(own)) return `give ${own}, where it is`;
  return "give the folder that frontpace measure wrote, or the result.json in it";
}

/** The first result that a summary names. */
async function firstOfBatch(summary: string): Promise<string | null> {
  try {
    const { takes } = JSON.parse(await readFile(summary, "utf8"));
    return takes.find(({ result }: { result: string | null }) => result !== null)?.result ?? null;
  } catch {
    return null;
  }
}

async function holdsResult(folder: string): Promise<boolean> {
  const names: readonly string[] = await readdir(folder).catch(() => []);
  return names.includes("result.json");
}
