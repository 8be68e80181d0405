import { basename, resolve } from "node:path";
import { abortable } from "./abortable.js";
import { applyFrameStep } from "./apply-frame-step.js";
import { checkHeaders } from "./check-headers.js";
import { chooseSequence } from "./choose-sequence.js";
import { FrameLoadError } from "./frame-load-error.js";
import { listFolder } from "./list-folder.js";
import { listSome } from "./list-some.js";
import { numberStills } from "./number-stills.js";
import { stillSequence } from "./still-sequence.js";
import type { FrameSequence, FrameWarning } from "./types.js";

/** Options of {@link openFrames}. */
export interface OpenFramesOptions {
  /** Declares that every `frameStep`-th recorded frame was exported. Where the numbers in the file names rise in
   *  multiples of it they are frame numbers; otherwise they count stills, and the frame number is
   *  `frameStep` times the number in the name. A whole number >= 1. Default: not declared, the numbers in the
   *  names are frame numbers. */
  readonly frameStep?: number;
  /** When it aborts, opening rejects with `signal.reason`. Default: never. */
  readonly signal?: AbortSignal;
}

/** Opens a folder of numbered stills (PNG, JPEG, TIFF) as one sequence. Every header is read and compared, no
 *  samples are.
 *  @param path  the folder
 *  @throws RangeError for a `frameStep` that is not a whole number >= 1
 *  @throws FrameLoadError where the folder holds no sequence of stills of one size and kind; `code` says why */
export async function openFrames(path: string, options: OpenFramesOptions = {}): Promise<FrameSequence> {
  const { frameStep, signal } = options;
  if (frameStep !== undefined && (!Number.isSafeInteger(frameStep) || frameStep < 1)) {
    throw new RangeError(`frameStep must be a whole number >= 1, got ${frameStep}`);
  }
  const folder = resolve(path);
  const { stills, others } = await abortable(listFolder(path), signal);
  const { members, strays } = chooseSequence(stills);
  if (members.length === 0) throw noFrames(basename(folder), stills, others);
  const numbered = numberStills(members);
  const files = numbered.stills.map(({ file }) => file);
  const stepped = applyFrameStep(numbered.stills, frameStep);
  const headers = await checkHeaders(folder, files, signal);
  return stillSequence({
    folder,
    kind: headers.kind,
    stills: files.map((file, i) => ({ file, number: stepped.numbers[i], stamp: headers.stamps[i] })),
    step: frameStep ?? 1,
    warnings: [
      ...ignoredFiles([...strays, ...others]),
      ...numbered.warnings,
      ...stepped.warnings,
      ...headers.warnings,
    ],
  });
}

function ignoredFiles(files: readonly string[]): FrameWarning[] {
  if (files.length === 0) return [];
  return [
    {
      code: "ignored-files",
      message: `${files.length} file(s) or folder(s) beside the sequence are ignored: ${listSome(files)}`,
    },
  ];
}

function noFrames(folder: string, stills: readonly string[], others: readonly string[]): FrameLoadError {
  if (stills.length > 0) {
    return new FrameLoadError(
      "no-frames",
      `none of the ${stills.length} still(s) in ${folder} has a number in its name (${listSome(stills)}): name them so that each carries its frame number`,
    );
  }
  const found = others.length === 0 ? "the folder is empty" : `it holds ${listSome(others)}`;
  return new FrameLoadError(
    "no-frames",
    `${folder} holds no stills (.png, .jpg, .jpeg, .tif, .tiff), ${found}: give the folder that holds the stills`,
  );
}
