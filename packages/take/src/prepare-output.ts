import { randomUUID } from "node:crypto";
import { mkdir, rm, rmdir, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { TakeError } from "./take-error.js";

/** Makes sure that files can be written to a folder, before long work starts, and leaves no trace of having tried.
 *  @throws TakeError `output-not-writable` */
export async function prepareOutput(directory: string): Promise<void> {
  const created = await createFolder(directory);
  const probe = join(directory, `.frontpace-${randomUUID()}`);
  try {
    await writeFile(probe, "", { flag: "wx" });
  } catch (error) {
    throw outputError(directory, error);
  } finally {
    await rm(probe, { force: true });
    await removeEmptyFolders(directory, created);
  }
}

/** Creates a folder with its parents.
 *  @returns the topmost folder that was not there before, or null */
export async function createFolder(directory: string): Promise<string | null> {
  try {
    return (await mkdir(directory, { recursive: true })) ?? null;
  } catch (error) {
    throw outputError(directory, error);
  }
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
    EACCES: "no permission",
    EPERM: "no permission",
    EROFS: "the disk is read-only",
    ENOSPC: "the disk is full",
    EISDIR: "a folder stands where a file would go",
  };
  const code = (cause as NodeJS.ErrnoException).code ?? "unknown";
  const message = `the output folder ${directory} cannot be written (${reasons[code] ?? code}): name another one`;
  return new TakeError("output-not-writable", message, { file: directory }, { cause });
}
