import { lstat, readdir } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { outputError, prepareOutput } from "../files/prepare-output.js";
import { TakeError } from "../take-error.js";

/** Makes sure that a folder of copied frames can be made, before long work starts: what stands there already is never
 *  mixed with, so it must be empty or not there, and an empty one must be such that a complete one can take its place.
 *  @throws TakeError `copy-not-empty`, `output-not-writable` */
export async function prepareCopy(folder: string): Promise<void> {
  const held = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return [];
    throw outputError(folder, error);
  });
  if (held.length > 0) {
    const message = `the folder for copied frames, ${folder}, must be empty or not there, so that they stand alone; it holds ${held[0]}${held.length > 1 ? ` and ${held.length - 1} more` : ""}: name another one`;
    throw new TakeError("copy-not-empty", message, { file: folder });
  }
  await prepareOutput(dirname(resolve(folder)));
  if (await cannotGiveWay(folder)) {
    const message = `the folder for copied frames, ${folder}, is a link, a disk of its own or the folder that is worked in, and cannot be replaced by the complete one: name one that is not there yet`;
    throw new TakeError("output-not-writable", message, { file: folder });
  }
}

async function cannotGiveWay(folder: string): Promise<boolean> {
  const found = await lstat(folder).catch(() => null);
  if (!found) return false;
  const { dev } = await lstat(dirname(resolve(folder)));
  return found.isSymbolicLink() || found.dev !== dev || resolve(folder) === process.cwd();
}
