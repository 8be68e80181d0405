import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { removeLeftovers, type TakeResult, writeOutputs } from "@frontpace/take";
import { amongOthers } from "./among-others.js";
import type { MeasuredFiles } from "./measure-to-files.js";

/** Beside the files of a take: what they were made from, and a digest of each. */
const RECORD = "batch.json";
const MOST_WRITES = 10;

/** Writes the files of a take with a record of them behind them. Another run that writes there at the same time is seen by the digests,
 *  and all are written again: what stands in the end is whole and of one run. Killed half way it leaves no record that fits.
 *  @param identity  what they were made from
 *  @throws TakeError `output-not-writable` */
export async function writeTake(folder: string, identity: string, measured: MeasuredFiles): Promise<void> {
  const { files, stale } = measured;
  const digests = Object.fromEntries(Object.entries(files).map(([name, content]) => [name, digest(content)]));
  const record = `${JSON.stringify({ format: "frontpace-batch-take", version: 1, identity, files: digests, absent: stale }, null, 2)}\n`;
  await removeLeftovers(folder);
  for (let time = 0; time < MOST_WRITES; time++) {
    await amongOthers(() => writeOutputs(folder, { ...files, [RECORD]: record }, { stale, ahead: [RECORD] }));
    if (wholeRecord(folder) !== null) return;
  }
  throw new Error(`another run writes to ${folder} all the time: let one end first`);
}

/** The result of a take that was measured from the same before, and of which every file stands as it was written.
 *  @returns null where it has to be measured */
export async function resultOf(folder: string, identity: string): Promise<TakeResult | null> {
  if (wholeRecord(folder) !== identity) return null;
  return JSON.parse(await readFile(join(folder, "result.json"), "utf8")) as TakeResult;
}

/** Takes away what an earlier run left of a take that now fails: nothing that was measured from other frames may pass for its result. */
export async function removeTake(folder: string, names: readonly string[]): Promise<void> {
  for (const name of [RECORD, ...names]) await rm(join(folder, name), { force: true });
}

/** What the files of a folder were made from, where each of them is as it was written; null where one is not. */
function wholeRecord(folder: string): string | null {
  try {
    const record = JSON.parse(readFileSync(join(folder, RECORD), "utf8"));
    for (const [name, expected] of Object.entries(record.files))
      if (digest(readFileSync(join(folder, name))) !== expected) return null;
    const present = new Set(readdirSync(folder));
    return record.absent.some((name: string) => present.has(name)) ? null : record.identity;
  } catch {
    return null;
  }
}

function digest(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}
