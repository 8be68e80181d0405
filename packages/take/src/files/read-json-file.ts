import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { TakeError } from "../take-error.js";
import { unreadableReason } from "./unreadable-reason.js";

/** Reads a file of this program.
 *  @param what  how messages call it
 *  @throws TakeError `file-unreadable`, `file-not-json` */
export async function readJsonFile(file: string, what: string): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch (error) {
    throw new TakeError(
      "file-unreadable",
      `the ${what} ${file} cannot be read (${unreadableReason(error)}): name a readable file`,
      { file },
      { cause: error },
    );
  }
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const message = `the ${what} ${basename(file)} is no file of JSON text: name the one that frontpace wrote`;
    throw new TakeError("file-not-json", message, { file }, { cause: error });
  }
}
