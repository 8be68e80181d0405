import { join } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import { plainFrames } from "../places/plain-frames.js";
import { PositionedFile } from "../places/positioned-file.js";
import { liesInOnePiece, readDirectory } from "../places/tiff-directory.js";
import { tiffForm } from "../places/tiff-numbers.js";
import type { FileStamp } from "../samples/file-stamp.js";
import type { FrameKind, PlainPlace } from "../samples/frame-header.js";
import type { Samples } from "../samples/frame-of.js";
import type { Region } from "../types.js";

/** The directory of most begins there. */
const HEAD_BYTES = 1024;

/** Looks whether a file is a TIFF of one picture whose rows can be read where they lie.
 *  @param stamp  of the file, just looked at
 *  @returns null for every other file, a damaged one too: the decoder of stills says what it is
 *  @throws FrameLoadError `unreadable-frame` */
export async function plainStill(
  folder: string,
  name: string,
  stamp: FileStamp,
): Promise<(FrameKind & { readonly stamp: FileStamp; readonly plain: PlainPlace }) | null> {
  const file = await PositionedFile.open(join(folder, name), stamp);
  try {
    const head = await file.readUpTo(0, HEAD_BYTES);
    const form = tiffForm(head);
    if (!form) return null;
    const page = await readDirectory(file, form, form.firstAt, head);
    if (page.isCompanion || page.nextAt !== 0 || page.isInverted || !liesInOnePiece(page)) return null;
    const { rows, columns, bitDepth, channels, pixelSamples, palette, offsets } = page;
    if (palette || pixelSamples !== channels) return null;
    const plain = { dataAt: offsets[0], bigEndian: form.bigEndian };
    return { rows, columns, bitDepth, colour: channels === 3, stamp, plain };
  } catch (error) {
    if (error instanceof FrameLoadError && error.code !== "unreadable-frame") return null;
    throw error;
  } finally {
    await file.close();
  }
}

/** Reads the rows of a region where they lie. The file is open no longer than that.
 *  @param stamp  of the file when its header was read
 *  @returns the samples as they are stored, in the byte order of this machine; null where the file is another by now
 *  @throws FrameLoadError `corrupt-frame` where it ends before them, `unreadable-frame` */
export async function readPlainStill(
  folder: string,
  name: string,
  { kind, stamp, plain }: { readonly kind: FrameKind; readonly stamp: FileStamp; readonly plain: PlainPlace },
  region: Region,
): Promise<Samples | null> {
  const file = await PositionedFile.open(join(folder, name));
  try {
    const { size, modifiedMilliseconds } = file.stamp;
    if (size !== stamp.size || modifiedMilliseconds !== stamp.modifiedMilliseconds) return null;
    const { dataAt, bigEndian } = plain;
    const layout = { kind, count: 1, warnings: [], bigEndian, placeOf: () => dataAt };
    return await plainFrames(file, layout).readSamples(0, region);
  } finally {
    await file.close();
  }
}
