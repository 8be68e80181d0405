import { randomUUID } from "node:crypto";
import { mkdir, rm, rmdir, stat, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { TakeError } from "../take-error.js";

/** Makes sure that files can be written to a folder, before long work starts, and leaves no trace of having tried.
 *  @throws TakeError `output-not-writable` */
export async function prepareOutput(directory: string): Promise<void> {
  const created = await createFolder(directory);
  // Named as the files of `writeOutputs` are, so that what a killed run leaves is known for what it is.
  const probe = join(directory, `.frontpace.${process.pid}-${randomUUID()}.tmp`);
  try {
    await writeFile(probe, "", { flag: "wx" });
  } catch (error) {
    throw outputError(directory, error);
  } finally {
    await rm(probe, { force: true }).catch(() => {});
    await removeEmptyFolders(directory, created);
  }
}

/** Creates a folder with its parents, one by one: where a file system takes no folders (ENOENT under an existing
 *  parent), Node's recursive mkdir never returns.
 *  @returns the topmost folder that was not there before, or null */
export async function createFolder(directory: string): Promise<string | null> {
  const missing: string[] = [];
  try {
    for (let folder = resolve(directory); !(await isFolder(folder)); folder = dirname(folder))
      missing.push(folder);
    for (const folder of missing.toReversed()) await mkdir(folder);
    return missing.at(-1) ?? null;
  } catch (error) {
    throw outputError(directory, error);
  }
}

/** @throws where something stands there that is no folder, or that cannot be looked at */
async function isFolder(path: string): Promise<boolean> {
  try {
    if ((await stat(path)).isDirectory()) return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw error;
  }
  throw Object.assign(new Error(`${path} is not a folder`), { code: "ENOTDIR" });
}

/** Removes folders that this program created, as long as they are empty. */
export async function removeEmptyFolders(directory: string, topmost: string | null): Promise<void> {
  if (topmost === null) return;
  const end = dirname(resolve(topmost));
  for (let folder = resolve(directory); folder !== end; folder = dirname(folder)) {
    try {
      await rmdir(folder);
    } catch {
      return;
    }
  }
}

export function outputError(directory: string, cause: unknown): TakeError {
  const reasons: Record<string, string> = {
    EEXIST: "a file stands there",
    ENOTDIR: "a file stands in its place or above it",
    ENOENT: "no folder can be made there",
    EACCES: "no permission",
    EPERM: "no permission",
    EROFS: "the disk is read-only",
    ENOSPC: "the disk is full",
    EISDIR: "a folder stands where a file would go",
    ENOTEMPTY: "it is not empty",
  };
  const code = (cause as NodeJS.ErrnoException).code ?? "unknown";
  const message = `the output folder ${directory} cannot be written (${reasons[code] ?? code}): name another one`;
  return new TakeError("output-not-writable", message, { file: directory }, { cause });
}
