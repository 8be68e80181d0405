import { randomUUID } from "node:crypto";
import { mkdir, rename, rm, rmdir, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { createFolder, outputError, removeEmptyFolders } from "./prepare-output.js";

/** A folder that is filled under a temporary name. */
export interface BuildingFolder {
  add(name: string, content: string | Uint8Array): Promise<void>;
}

/** Fills a folder under a temporary name beside its own and gives it that name when it is complete; an empty folder of that
 *  name gives way, anything else does not. Where filling fails nothing is left.
 *  @throws TakeError `output-not-writable`; whatever `fill` throws */
export async function buildFolder(
  folder: string,
  fill: (building: BuildingFolder) => Promise<void>,
): Promise<void> {
  const target = resolve(folder);
  const parent = dirname(target);
  const building = join(parent, `.${basename(target)}.${randomUUID()}.tmp`);
  const created = await createFolder(parent);
  try {
    await writing(() => mkdir(building));
    await fill({
      add: (name, content) => writing(() => writeFile(join(building, name), content, { flag: "wx" })),
    });
    await writing(async () => {
      await rmdir(target).catch((error: NodeJS.ErrnoException) => {
        if (error.code !== "ENOENT") throw error;
      });
      await rename(building, target);
    });
  } finally {
    await rm(building, { recursive: true, force: true });
    await removeEmptyFolders(parent, created);
  }

  async function writing<T>(work: () => Promise<T>): Promise<T> {
    try {
      return await work();
    } catch (error) {
      throw outputError(folder, error);
    }
  }
}
