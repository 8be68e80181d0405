import type { Stats } from "node:fs";
import { FrameLoadError } from "../frame-load-error.js";

/** The error for a file the system does not let us read. */
export function unreadableFrame(file: string, cause: unknown): FrameLoadError {
  const systemCode = (cause as NodeJS.ErrnoException).code ?? String(cause);
  const hint =
    systemCode === "ENOENT"
      ? "it is gone, or a link to a file that is not there: restore it or take it out"
      : "check its permissions and the disk";
  const reason = `could not be read (${systemCode})`;
  return new FrameLoadError("unreadable-frame", `${file} ${reason}: ${hint}`, { file, reason, cause });
}

/** What is named like a still and is a folder, or a pipe, which would be waited for without end.
 *  @param found  what the system says of it
 *  @throws FrameLoadError `unreadable-frame` */
export function checkRegular(file: string, found: Stats): void {
  if (found.isFile()) return;
  const what = found.isDirectory() ? "a folder" : "not a regular file";
  const reason = `is ${what}, though it is named like a still`;
  throw new FrameLoadError("unreadable-frame", `${file} ${reason}: rename it or move it away`, {
    file,
    reason,
  });
}

/** The error for a still whose content is damaged.
 *  @param reason  what is wrong, as it reads behind the file's name
 *  @param advice  what to do */
export function corrupt(file: string, reason: string, advice: string, cause?: unknown): FrameLoadError {
  return new FrameLoadError("corrupt-frame", `${file} ${reason}: ${advice}`, {
    file,
    reason,
    ...(cause !== undefined && { cause }),
  });
}

/** First line of an error's message; decoders repeat themselves in the rest. */
export function firstLine(cause: unknown): string {
  return (cause instanceof Error ? cause.message : String(cause)).split(/[\r\n]/)[0];
}
