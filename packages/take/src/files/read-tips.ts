import { readFile } from "node:fs/promises";
import { TakeError } from "../take-error.js";
import type { TipRow } from "../types.js";
import { TIP_COLUMNS } from "./tips-csv.js";

/** Reads a tips.csv.
 *  @returns null where there is no such file
 *  @throws TakeError `file-unreadable`, `invalid-value` */
export async function readTips(file: string): Promise<TipRow[] | null> {
  const text = await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return null;
    throw new TakeError("file-unreadable", `${file} cannot be read (${error.code})`, { file });
  });
  if (text === null) return null;
  const [header, ...lines] = text.trimEnd().split(/\r?\n/);
  if (header !== TIP_COLUMNS.join(",")) throw unfit(file, 1);
  return lines.map((line, k) => {
    const values = line.split(",");
    const used = values[TIP_COLUMNS.length - 1];
    const [branch, frame, timeSeconds, x, y, lengthPixels, lengthMetres, u, residual] = values.map(Number);
    const numbers = [branch, frame, timeSeconds, x, y, lengthPixels, lengthMetres, u, residual];
    const isWhole = Number.isSafeInteger(branch) && branch >= 1 && Number.isSafeInteger(frame);
    if (values.length !== TIP_COLUMNS.length || !numbers.every(Number.isFinite) || !isWhole)
      throw unfit(file, k + 2);
    if (used !== "true" && used !== "false") throw unfit(file, k + 2);
    return {
      branch,
      frame,
      timeSeconds,
      x,
      y,
      lengthPixels,
      lengthMetres,
      standardUncertaintyPixels: u,
      residualPixels: residual,
      used: used === "true",
    };
  });
}

function unfit(file: string, line: number): TakeError {
  const message = `${file}: line ${line} is none that frontpace measure writes: measure the take again`;
  return new TakeError("invalid-value", message, { file });
}
