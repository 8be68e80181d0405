import type { Dirent } from "node:fs";
import { readdir } from "node:fs/promises";
import { FrameLoadError } from "../frame-load-error.js";

/** The extensions of a still, in lower case. */
const STILL = /\.(png|jpe?g|tiff?|webp)$/i;
/** What the program itself writes beside stills. */
const OWN_FILE = /^(?:(?:.*\.)?take\.json|result\.json|track\.csv)$/;

/** What a folder holds. */
export interface FolderListing {
  /** Names that end as stills do and are not hidden, sorted. Folders and dead links with such a name too:
   *  one in the middle of a sequence must not pass for a missing frame. */
  readonly stills: readonly string[];
  /** Everything else but the program's own files, sorted; folders end with a slash. */
  readonly others: readonly string[];
}

/** Lists the stills of a folder.
 *  @throws FrameLoadError `not-a-folder` or `unreadable-folder` */
export async function listFolder(path: string): Promise<FolderListing> {
  let entries: Dirent[];
  try {
    entries = await readdir(path, { withFileTypes: true });
  } catch (cause) {
    throw folderError(path, cause);
  }
  const stills: string[] = [];
  const others: string[] = [];
  for (const entry of entries) {
    if (!entry.name.startsWith(".") && STILL.test(entry.name)) stills.push(entry.name);
    else if (!OWN_FILE.test(entry.name)) others.push(entry.isDirectory() ? `${entry.name}/` : entry.name);
  }
  return { stills: stills.sort(), others: others.sort() };
}

function folderError(path: string, cause: unknown): FrameLoadError {
  const systemCode = (cause as NodeJS.ErrnoException).code;
  if (systemCode === "ENOENT") {
    return new FrameLoadError(
      "not-a-folder",
      `${path} does not exist: give the folder that holds the stills, or a file of frames`,
      {
        cause,
      },
    );
  }
  if (systemCode === "ENOTDIR") {
    return new FrameLoadError(
      "not-a-folder",
      `${path} is not a folder: give the folder that holds the stills`,
      {
        cause,
      },
    );
  }
  return new FrameLoadError(
    "unreadable-folder",
    `${path} could not be listed (${systemCode ?? String(cause)}): check that you may read this folder`,
    { cause },
  );
}
