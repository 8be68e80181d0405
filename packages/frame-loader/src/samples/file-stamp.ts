import { access, constants, stat } from "node:fs/promises";
import { join } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import { unreadableFrame } from "./frame-faults.js";

/** Enough of a file's state to notice that it was written to. */
export interface FileStamp {
  readonly size: number;
  readonly modifiedMilliseconds: number;
}

/** State of a file on the disk.
 *  @throws FrameLoadError `unreadable-frame` */
export async function fileStamp(folder: string, file: string): Promise<FileStamp> {
  const path = join(folder, file);
  try {
    const found = await stat(path);
    if (!found.isFile()) {
      const what = found.isDirectory() ? "a folder" : "not a regular file";
      const reason = `is ${what}, though it is named like a still`;
      throw new FrameLoadError("unreadable-frame", `${file} ${reason}: rename it or move it away`, {
        file,
        reason,
      });
    }
    await access(path, constants.R_OK);
    return { size: found.size, modifiedMilliseconds: found.mtimeMs };
  } catch (cause) {
    throw cause instanceof FrameLoadError ? cause : unreadableFrame(file, cause);
  }
}
