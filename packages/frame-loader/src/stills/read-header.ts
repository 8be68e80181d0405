import { join } from "node:path";
import type { Metadata } from "sharp";
import { FrameLoadError } from "../frame-load-error.js";
import { fileStamp } from "../samples/file-stamp.js";
import { corrupt, firstLine } from "../samples/frame-faults.js";
import type { FrameHeader } from "../samples/frame-header.js";
import { greyPng } from "./grey-png.js";
import { loadSharp } from "./load-sharp.js";
import { plainStill } from "./plain-still.js";

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
