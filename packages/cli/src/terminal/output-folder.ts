import { stat } from "node:fs/promises";
import { basename, dirname, extname, join, relative, resolve } from "node:path";
import { prepareOutput } from "@frontpace/take";
import { CliError } from "./cli-error.js";

/** The folder for the files, known to be writable; where the take is missing, that is the error to come.
 *  @throws CliError `invalid-option`, `output-is-take`; TakeError `output-not-writable` */
export async function outputFolder(take: string, out: string | undefined): Promise<string> {
  if (take === "")
    throw new CliError(
      "invalid-option",
      "the take must be named, got an empty text: give its folder or file",
    );
  if (out === "") throw new CliError("invalid-option", "--out must name a folder, got an empty text");
  const folder = resolve(take);
  const chosen = out === undefined ? resolve(await defaultFolder(take)) : resolve(out);
  refuseTake(chosen, folder, out);
  const named = relative(process.cwd(), chosen) || ".";
  if (await stat(folder).catch(() => null)) await prepareOutput(named);
  return named;
}

/** Where the files of a take go when nothing else is said: NAME-frontpace beside it. */
export async function defaultFolder(take: string): Promise<string> {
  const folder = resolve(take);
  const isFile = (await stat(folder).catch(() => null))?.isFile() ?? false;
  const name = isFile ? basename(folder, extname(folder)) : basename(folder);
  return relative(process.cwd(), join(dirname(folder), `${name}-frontpace`)) || ".";
}

/** @param out  as it was given
 *  @throws CliError `output-is-take` where the files would stand in the take */
export function refuseTake(folder: string, take: string, out: string | undefined): void {
  if (resolve(folder) === resolve(take)) throw amongFramesError(folder, out);
}

/** The error where the folder for the files holds frames.
 *  @param out  as it was given */
export function amongFramesError(folder: string, out: string | undefined): CliError {
  const message = `--out must not be the folder of the take, got "${out ?? folder}": the pictures would stand among the frames`;
  return new CliError("output-is-take", message);
}
