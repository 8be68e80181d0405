import { access, constants, stat } from "node:fs/promises";
import { join } from "node:path";
import type { Metadata } from "sharp";
import { FrameLoadError } from "./frame-load-error.js";
import { greyPng } from "./grey-png.js";
import { loadSharp } from "./load-sharp.js";
import { type PlainPlace, plainStill } from "./plain-still.js";
import type { SampleRange } from "./sample-range.js";

/** Size and kind of the samples of a still. */
export interface FrameKind {
  readonly rows: number;
  readonly columns: number;
  readonly bitDepth: 8 | 16 | 32;
  readonly colour: boolean;
  /** Samples that mean black and white, where the file states them. Default: the whole range of `bitDepth`. */
  readonly range?: SampleRange;
}

/** What is known of a still before it is decoded. */
export interface FrameHeader extends FrameKind {
  /** Pictures in the file; only the first is read. */
  readonly pages: number;
  readonly stamp: FileStamp;
  /** Of an uncompressed still, which is read where it lies; absent: it has to be decoded. */
  readonly plain?: PlainPlace;
  /** Whether its rows can be had without a decoder of whole pictures: `readGreyPng`. Default: false. */
  readonly isGreyPng?: boolean;
}

/** Enough of a file's state to notice that it was written to. */
export interface FileStamp {
  readonly size: number;
  readonly modifiedMilliseconds: number;
}

const FORMATS = new Set(["png", "jpeg", "tiff", "webp"]);
const BIT_DEPTH: Readonly<Record<string, 8 | 16 | 32>> = { uchar: 8, ushort: 16, float: 32 };
const IS_COLOUR: Readonly<Record<string, boolean>> = {
  "b-w": false,
  grey16: false,
  srgb: true,
  rgb16: true,
  scrgb: true,
};

/** Reads the header of a still, not its samples.
 *  @throws FrameLoadError `unreadable-frame`, `corrupt-frame` or `unsupported-frame` */
export async function readHeader(folder: string, file: string): Promise<FrameHeader> {
  const stamp = await fileStamp(folder, file);
  if (stamp.size === 0) {
    throw corrupt(file, "is empty (0 bytes)", "export it again, or take it out");
  }
  const plain = isNamedTiff(file) ? await plainStill(folder, file, stamp) : null;
  if (plain) return { ...plain, pages: 1 };
  const grey = isNamedPng(file) ? await greyPng(folder, file, stamp) : null;
  if (grey) return { ...grey, pages: 1, stamp, isGreyPng: true };
  const sharp = await loadSharp();
  let metadata: Metadata;
  try {
    metadata = await sharp(join(folder, file)).metadata();
  } catch (cause) {
    throw corrupt(
      file,
      `is not a PNG, JPEG, TIFF or WebP that can be read (${firstLine(cause)})`,
      "it may be cut short or of an unusual kind; export it again, or take it out",
      cause,
    );
  }
  const { format = "unknown", space = "unknown", depth = "unknown", width, height, channels = 0 } = metadata;
  const bitDepth = BIT_DEPTH[depth];
  const colour = IS_COLOUR[space];
  const fits = colour ? channels === 3 || channels === 4 : channels === 1 || channels === 2;
  if (!FORMATS.has(format) || bitDepth === undefined || colour === undefined || !fits) {
    throw new FrameLoadError(
      "unsupported-frame",
      `${file} is a ${format} file of kind ${space} with ${channels} channel(s) of ${depth} samples: export grey or RGB stills as PNG, JPEG, TIFF or WebP with 8 or 16 bits (or 32-bit floating-point TIFF)`,
      { file },
    );
  }
  return { rows: height, columns: width, bitDepth, colour, pages: metadata.pages ?? 1, stamp };
}

function isNamedTiff(file: string): boolean {
  return /\.tiff?$/i.test(file);
}

function isNamedPng(file: string): boolean {
  return /\.png$/i.test(file);
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
