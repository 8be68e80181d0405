import { join } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import { type FileStamp, fileStamp } from "../samples/file-stamp.js";
import { corrupt, firstLine } from "../samples/frame-faults.js";
import type { FrameKind, PlainPlace } from "../samples/frame-header.js";
import { frameOf, type Samples, typedSamples } from "../samples/frame-of.js";
import type { Frame, Region } from "../types.js";
import { readGreyPng } from "./grey-png.js";
import { loadSharp } from "./load-sharp.js";
import { readPlainStill } from "./plain-still.js";

/** A still whose header has been read. */
export interface KnownStill {
  readonly file: string;
  readonly stamp: FileStamp;
  readonly plain?: PlainPlace;
  readonly isGreyPng?: boolean;
}

/** The colour space and sample type that leave samples as they are stored: the decoder's own default is three
 *  8-bit channels. */
const GREY = { 8: ["b-w", "uchar"], 16: ["grey16", "ushort"], 32: ["b-w", "float"] } as const;
const COLOUR = { 8: ["srgb", "uchar"], 16: ["rgb16", "ushort"], 32: ["scrgb", "float"] } as const;

/** Decodes the part of a still that `region` names; of an uncompressed one only its rows are read, and
 *  those of a grey PNG are inflated no further than to the last of them. Embedded profiles, gamma and orientation are left alone, alpha is dropped, colour becomes luminance.
 *  @param kind  what the header said
 *  @param region  inside the picture
 *  @param light  light by stored sample, where it is to be had instead of the samples
 *  @returns shape [region.rows, region.columns]
 *  @throws FrameLoadError `corrupt-frame`, `unreadable-frame` or `changed-frame` */
export async function decodeFrame(
  folder: string,
  { file, stamp, plain, isGreyPng }: KnownStill,
  kind: FrameKind,
  region: Region,
  light: Float64Array | null = null,
): Promise<Frame> {
  const samples = plain
    ? await readPlainStill(folder, file, { kind, stamp, plain }, region)
    : isGreyPng
      ? await readGreyPng(folder, file, { kind, stamp }, region)
      : await decodedSamples(folder, { file, stamp }, kind, region);
  const expected = region.rows * region.columns * (kind.colour ? 3 : 1);
  if (samples?.length !== expected) throw changed(file);
  return frameOf(samples, kind, region, light);
}

async function decodedSamples(
  folder: string,
  { file, stamp }: KnownStill,
  kind: FrameKind,
  region: Region,
): Promise<Samples> {
  await checkUnchanged(folder, file, stamp);
  const sharp = await loadSharp();
  const [space, depth] = (kind.colour ? COLOUR : GREY)[kind.bitDepth];
  const image = sharp(join(folder, file), { failOn: "warning", ignoreIcc: true })
    .toColourspace(space)
    .removeAlpha()
    .raw({ depth });
  if (region.rows < kind.rows || region.columns < kind.columns) {
    image.extract({ left: region.column, top: region.row, width: region.columns, height: region.rows });
  }
  let bytes: Buffer;
  try {
    bytes = await image.toBuffer();
  } catch (cause) {
    // A file that went away while it was read is not a corrupt one.
    await checkUnchanged(folder, file, stamp);
    throw corrupt(
      file,
      `is damaged or cut short (${firstLine(cause)})`,
      "export it again, or take it out",
      cause,
    );
  }
  return typedSamples(bytes, kind.bitDepth);
}

/** @throws FrameLoadError `changed-frame` or `unreadable-frame` */
export async function checkUnchanged(folder: string, file: string, stamp: FileStamp): Promise<void> {
  const now = await fileStamp(folder, file);
  if (now.size !== stamp.size || now.modifiedMilliseconds !== stamp.modifiedMilliseconds) throw changed(file);
}

function changed(file: string): FrameLoadError {
  return new FrameLoadError(
    "changed-frame",
    `${file} was written to after the folder was opened: wait until the export has finished, then start again`,
    { file },
  );
}
