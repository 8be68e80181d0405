import { access, constants, stat } from "node:fs/promises";
import { unreadableReason } from "../files/unreadable-reason.js";
import { TakeError } from "../take-error.js";

/** A still as samples. */
export interface CalibrationStill {
  readonly name: string;
  readonly rows: number;
  readonly columns: number;
  /** Row-major, shape (rows · columns,). */
  readonly data: Float64Array;
}

/** Reads the stills of a calibration.
 *  @throws FrameLoadError; TakeError `file-unreadable`, `invalid-value` where there is none, or they are not of one size;
 *    `signal.reason` */
export async function readStills(
  files: readonly string[],
  signal: AbortSignal | undefined,
): Promise<CalibrationStill[]> {
  if (files.length === 0)
    throw new TakeError("invalid-value", "a calibration needs at least one still", { key: "stills" });
  const { readStill } = await import("@frontpace/frame-loader");
  const stills: CalibrationStill[] = [];
  for (const file of files) {
    signal?.throwIfAborted();
    await checkReadable(file);
    const { name, frame } = await readStill(file);
    const [rows, columns] = frame.shape;
    const data = Float64Array.from({ length: rows * columns }, (_, at) =>
      frame.get(Math.floor(at / columns), at % columns),
    );
    const [first] = stills;
    if (first && (first.rows !== rows || first.columns !== columns)) {
      const message = `the stills of a calibration must be of one size: ${first.name} is ${first.columns} x ${first.rows} px, ${name} ${columns} x ${rows}`;
      throw new TakeError("invalid-value", message, { key: "stills", file });
    }
    stills.push({ name, rows, columns, data });
  }
  return stills;
}

async function checkReadable(file: string): Promise<void> {
  try {
    if ((await stat(file)).isDirectory()) throw Object.assign(new Error(file), { code: "EISDIR" });
    await access(file, constants.R_OK);
  } catch (cause) {
    const message = `the still ${file} cannot be read (${unreadableReason(cause)}): name a picture of something of known size`;
    throw new TakeError("file-unreadable", message, { file }, { cause });
  }
}
