import { readdir } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { outputError, prepareOutput } from "./prepare-output.js";
import { TakeError } from "./take-error.js";

/** Makes sure that a folder of copied frames can be made, before long work starts: what stands there already is never
 *  mixed with, so it must be empty or not there.
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
}
