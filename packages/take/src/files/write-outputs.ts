import { randomUUID } from "node:crypto";
import { lstat, readdir, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { createFolder, outputError, removeEmptyFolders } from "./prepare-output.js";

export interface WriteOptions {
  readonly signal?: AbortSignal;
  /** Names left from an earlier run that would contradict the new files: removed once these stand. */
  readonly stale?: readonly string[];
  /** Names removed before any new file stands, such as a record of what the old ones are. */
  readonly ahead?: readonly string[];
}

/** A temporary name: whose process it is stands in it. */
const TEMPORARY = /^\..+\.(\d+)-[0-9a-f-]{36}\.tmp$/;

/** Removes what processes of this machine that were ended while they wrote have left in a folder.
 *  @throws TakeError `output-not-writable` */
export async function removeLeftovers(directory: string): Promise<void> {
  for (const name of await readdir(directory).catch(() => [])) {
    const owner = TEMPORARY.exec(name)?.[1];
    if (owner === undefined || isRunning(Number(owner))) continue;
    await rm(join(directory, name), { force: true }).catch((cause) => {
      throw outputError(directory, cause);
    });
  }
}

function isRunning(id: number): boolean {
  try {
    return process.kill(id, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}

/** Writes files into a folder, created if need be: all to temporary names first, then each by rename. Stopped or
 *  failing before the renames, it leaves old files whole and nothing new.
 *  @param files  contents by file name
 *  @throws TakeError `output-not-writable`; `signal.reason` when stopped */
export async function writeOutputs(
  directory: string,
  files: Readonly<Record<string, string | Uint8Array>>,
  { signal, stale = [], ahead = [] }: WriteOptions = {},
): Promise<void> {
  signal?.throwIfAborted();
  const created = await createFolder(directory);
  const tag = `${process.pid}-${randomUUID()}`;
  const moves = Object.keys(files).map((name) => ({
    name,
    from: join(directory, `.${name}.${tag}.tmp`),
    to: join(directory, name),
  }));
  try {
    for (const { name, from, to } of moves) {
      await refuseFolder(to);
      await writeFile(from, files[name], { flag: "wx", ...(signal && { signal }) });
    }
    signal?.throwIfAborted();
    await removeThose(directory, ahead);
    for (const { from, to } of moves) await rename(from, to);
    await removeThose(directory, stale);
  } catch (error) {
    // What forbids to write may forbid to remove: why it was not written is what counts.
    for (const { from } of moves) await rm(from, { force: true }).catch(() => {});
    signal?.throwIfAborted();
    throw outputError(directory, error);
  } finally {
    await removeEmptyFolders(directory, created);
  }
}

/** Of many names few are there as a rule: one look tells which. */
async function removeThose(directory: string, names: readonly string[]): Promise<void> {
  const present = new Set(await readdir(directory));
  for (const name of names) if (present.has(name)) await rm(join(directory, name), { force: true });
}

async function refuseFolder(path: string): Promise<void> {
  const found = await lstat(path).catch(() => null);
  if (found?.isDirectory()) throw Object.assign(new Error(`${path} is a folder`), { code: "EISDIR" });
}
