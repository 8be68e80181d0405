import { access, constants, stat } from "node:fs/promises";
import { join } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import { checkRegular, unreadableFrame } from "./frame-faults.js";

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
    checkRegular(file, found);
    await access(path, constants.R_OK);
    return { size: found.size, modifiedMilliseconds: found.mtimeMs };
  } catch (cause) {
    throw cause instanceof FrameLoadError ? cause : unreadableFrame(file, cause);
  }
}
