import { stat } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { containerStore } from "./containers/container-store.js";
import { openContainer } from "./containers/open-container.js";
import type { RawLayout } from "./containers/raw-frames.js";
import { FrameLoadError } from "./frame-load-error.js";
import { listSome } from "./list-some.js";
import type { Container } from "./places/container.js";
import { type Transfer, transfers } from "./samples/transfer.js";
import { abortable } from "./sequence/abortable.js";
import { frameSequence } from "./sequence/frame-sequence.js";
import { keptFrames } from "./sequence/kept-frames.js";
import { applyFrameStep } from "./stills/apply-frame-step.js";
import { checkShare, skippedFrames } from "./stills/bad-stills.js";
import { checkHeaders } from "./stills/check-headers.js";
import { chooseSequence } from "./stills/choose-sequence.js";
import { dropUndecodable } from "./stills/drop-undecodable.js";
import { listFolder } from "./stills/list-folder.js";
import { numberStills } from "./stills/number-stills.js";
import { readHeaders } from "./stills/read-headers.js";
import { stillStore } from "./stills/still-store.js";
import type { FrameSequence, FrameWarning, OpeningProgress } from "./types.js";

/** Options of {@link openFrames}. */
export interface OpenFramesOptions {
  /** Declares that every `frameStep`-th recorded frame was exported. Where the numbers in the file names rise in
   *  multiples of it they are frame numbers; otherwise they count stills, and the frame number is
   *  `frameStep` times the number in the name. A whole number >= 1. Default: not declared, the numbers in the
   *  names are frame numbers. */
  readonly frameStep?: number;
  /** Leaves damaged and unreadable stills out, as gaps in time, and warns of it (`frames-skipped`). Every still is then
   *  decoded once at opening. Default: false, a damaged still is an error, at opening or when it is read. */
  readonly skipBad?: boolean;
  /** The transfer function that the stored samples went through: it is undone before colour becomes luminance. The
   *  whole range of the samples counts as black to white, and stays their unit. Whole samples only. Default:
   *  `linear`, samples as they are stored. */
  readonly transfer?: Transfer;
  /** How samples without a header lie in a file. Default: the file says itself what it is. */
  readonly raw?: RawLayout;
  /** Pictures that have to be decoded are kept from one pass to the next where all of the take's fit in so many bytes.
   *  Default: 0, none are. */
  readonly keptBytes?: number;
  /** Called for every still checked with `skipBad`. Default: not reported. */
  readonly onProgress?: (progress: OpeningProgress) => void;
  /** When it aborts, opening rejects with `signal.reason`. Default: never. */
  readonly signal?: AbortSignal;
}

/** Opens a folder of numbered stills (PNG, JPEG, TIFF, WebP), or one file that holds frames (multi-page TIFF, NumPy
 *  array, YUV4MPEG2, samples without a header, a clip where ffmpeg is installed), as one sequence. Of stills every header is read and compared, samples
 *  only with `skipBad`; the frames of a file are numbered from 0.
 *  @param path  the folder or the file
 *  @throws RangeError for a `frameStep` that is not a whole number >= 1, a `transfer` of another name
 *  @throws FrameLoadError where the folder holds no sequence of stills of one size and kind; `code` says why */
export async function openFrames(path: string, options: OpenFramesOptions = {}): Promise<FrameSequence> {
  const { frameStep, skipBad = false, transfer = "linear", raw, keptBytes = 0, onProgress, signal } = options;
  if (frameStep !== undefined && (!Number.isSafeInteger(frameStep) || frameStep < 1)) {
    throw new RangeError(`frameStep must be a whole number >= 1, got ${frameStep}`);
  }
  if (!transfers.includes(transfer)) {
    throw new RangeError(`transfer must be ${transfers.join(", ")}, got ${transfer}`);
  }
  if (await isFile(path)) {
    const container = await openInTime(path, raw ?? null, signal);
    if (transfer !== "linear" && container.kind.bitDepth === 32) {
      await container.close();
      throw notWhole(transfer, basename(path));
    }
    const store = containerStore(path, container, { frameStep: frameStep ?? 1, transfer });
    return frameSequence(keptFrames(store, keptBytes));
  }
  if (raw !== undefined)
    throw new FrameLoadError(
      "not-raw",
      `${path} is a folder of stills or not there: a layout of samples is for one file`,
    );
  const folder = resolve(path);
  const { stills, others } = await abortable(listFolder(path), signal);
  const { members, strays } = chooseSequence(stills);
  if (members.length === 0) throw noFrames(basename(folder), stills, others);
  const numbered = numberStills(members);
  const stepped = applyFrameStep(numbered.stills, frameStep);
  const all = numbered.stills.map(({ file }, i) => ({ file, number: stepped.numbers[i] }));
  const found = await readHeaders(folder, all, skipBad, signal);
  checkShare(found.bad, all.length);
  const files = found.stills.map(({ file }) => file);
  const { kind, warnings } = checkHeaders(files, found.headers);
  if (transfer !== "linear" && kind.bitDepth === 32) throw notWhole(transfer, files[0]);
  const read = { ...(signal && { signal }), ...(onProgress && { onProgress }) };
  const decoded = skipBad ? await dropUndecodable(folder, found.stills, kind, read) : found;
  const skipped = skipBad ? [...found.bad, ...decoded.bad].sort((a, b) => a.number - b.number) : [];
  checkShare(skipped, all.length);
  const step = frameStep ?? 1;
  const store = stillStore({
    folder,
    kind,
    stills: decoded.stills,
    step,
    warnings: [
      ...ignoredFiles([...strays, ...others]),
      ...numbered.warnings,
      ...stepped.warnings,
      ...warnings,
      ...skippedFrames(skipped, step),
    ],
    skipped,
    transfer,
  });
  return frameSequence(keptFrames(store, keptBytes));
}

/** A file that is open only after the abort is closed again. */
async function openInTime(
  path: string,
  raw: RawLayout | null,
  signal: AbortSignal | undefined,
): Promise<Container> {
  const opening = openContainer(path, raw, signal);
  try {
    return await abortable(opening, signal);
  } catch (error) {
    void opening.then((container) => container.close()).catch(() => {});
    throw error;
  }
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}

function notWhole(transfer: Transfer, file: string): FrameLoadError {
  return new FrameLoadError(
    "unsupported-transfer",
    `${file} holds floating-point samples, and transfer ${transfer} is defined for whole ones: leave it out where the samples are in proportion to the light, or convert them`,
    { file },
  );
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
      `none of the ${stills.length} still(s) in ${folder} has a number in its name (${listSome(stills)}): name them so that each carries its frame number${stills.length === 1 ? ", or give the file itself where it holds all frames" : ""}`,
    );
  }
  const found = others.length === 0 ? "the folder is empty" : `it holds ${listSome(others)}`;
  return new FrameLoadError(
    "no-frames",
    `${folder} holds no stills (.png, .jpg, .jpeg, .tif, .tiff, .webp), ${found}: give the folder that holds the stills, or a file of frames by its name`,
  );
}
