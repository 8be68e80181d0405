import { join } from "node:path";
import { createInflate } from "node:zlib";
import { FrameLoadError } from "../frame-load-error.js";
import { croppedColumns, swapBytes } from "../places/plain-frames.js";
import { PositionedFile } from "../places/positioned-file.js";
import type { FileStamp } from "../samples/file-stamp.js";
import { corrupt, firstLine } from "../samples/frame-faults.js";
import type { FrameKind } from "../samples/frame-header.js";
import { type Samples, typedSamples } from "../samples/frame-of.js";
import type { Region } from "../types.js";
import { canCheckChunks, PNG_SIGNATURE, type PngChunk, pngChunks } from "./png-chunks.js";
import { unfilterRows } from "./png-rows.js";

/** The samples of most PNG begin within so many bytes. */
const HEAD_BYTES = 4096;
/** Rows hold more or less alike: what holds some of them is likely among the same share of the file's bytes, and so many more. */
const SPARE_BYTES = 2 ** 16;
/** Larger pictures are left to the decoder of stills, which says how large they may be. */
const MOST_BYTES = 2 ** 25;
/** What stands in IHDR behind the bit depth: grey, deflate, the five filters, not interlaced. */
const GREY_IN_ROWS = Buffer.from([0, 0, 0, 0]);

/** Looks whether a file is a PNG of grey samples, 8 or 16 bits, row after row, without transparency: one that is read by inflating its
 *  rows down to those that are wanted, in a fraction of the time that a decoder of whole pictures takes.
 *  @param stamp  of the file, just looked at
 *  @returns null for every other file, a damaged one too: the decoder of stills says what it is
 *  @throws FrameLoadError `unreadable-frame` */
export async function greyPng(folder: string, name: string, stamp: FileStamp): Promise<FrameKind | null> {
  if (!canCheckChunks) return null;
  const file = await PositionedFile.open(join(folder, name), stamp);
  try {
    return kindOf(await file.readUpTo(0, HEAD_BYTES));
  } catch (error) {
    if (error instanceof FrameLoadError && error.code !== "unreadable-frame") return null;
    throw error;
  } finally {
    await file.close();
  }
}

function kindOf(head: Buffer): FrameKind | null {
  if (!head.subarray(0, PNG_SIGNATURE.length).equals(PNG_SIGNATURE)) return null;
  let kind: FrameKind | null = null;
  for (const { type, content, isSound } of pngChunks(head)) {
    if (type === "IDAT") return kind;
    if (!isSound() || type === "tRNS" || (type === "IHDR") !== (kind === null)) return null;
    kind ??= headerOf(content);
    if (!kind) return null;
  }
  return null;
}

/** @see W3C PNG specification, third edition, section 11.2.1 */
function headerOf(content: Buffer): FrameKind | null {
  if (content.length !== 13 || !content.subarray(9).equals(GREY_IN_ROWS)) return null;
  const [columns, rows, bitDepth] = [content.readUInt32BE(0), content.readUInt32BE(4), content[8]];
  if (bitDepth !== 8 && bitDepth !== 16) return null;
  const bytes = rows * (1 + (columns * bitDepth) / 8);
  return columns > 0 && rows > 0 && bytes <= MOST_BYTES ? { rows, columns, bitDepth, colour: false } : null;
}

/** Reads a region of such a still. Its rows are inflated no further than to the last one wanted.
 *  @param stamp  of the file when its header was read
 *  @returns the samples as they are stored, in the byte order of this machine; null where the file is another by now
 *  @throws FrameLoadError `corrupt-frame` where it is damaged or ends before them, `unreadable-frame` */
export async function readGreyPng(
  folder: string,
  name: string,
  { kind, stamp }: { readonly kind: FrameKind; readonly stamp: FileStamp },
  region: Region,
): Promise<Samples | null> {
  const bytes = await wholeFile(join(folder, name), stamp);
  if (!bytes) return null;
  const pixelBytes = kind.bitDepth / 8;
  const rowBytes = kind.columns * pixelBytes;
  const end = region.row + region.rows;
  try {
    const filtered = await inflatedRows(bytes, end * (rowBytes + 1), end / kind.rows);
    unfilterRows({ bytes: filtered, rowBytes, pixelBytes }, region.row, end);
    const rows = Buffer.allocUnsafeSlow(region.rows * rowBytes);
    for (let r = 0, at = region.row * (rowBytes + 1) + 1; r < region.rows; r++, at += rowBytes + 1)
      rows.set(filtered.subarray(at, at + rowBytes), r * rowBytes);
    swapBytes(rows, kind.bitDepth);
    return croppedColumns(typedSamples(rows, kind.bitDepth), region, kind.columns, 1);
  } catch (cause) {
    const reason = `is damaged or cut short (${firstLine(cause)})`;
    throw corrupt(name, reason, "export it again, or take it out", cause);
  }
}

/** @returns null where the file is another by now */
async function wholeFile(path: string, stamp: FileStamp): Promise<Buffer | null> {
  const file = await PositionedFile.open(path);
  try {
    const { size, modifiedMilliseconds } = file.stamp;
    if (size !== stamp.size || modifiedMilliseconds !== stamp.modifiedMilliseconds) return null;
    return await file.read(0, size);
  } finally {
    await file.close();
  }
}

/** The first bytes of the filtered rows.
 *  @param share  of all rows that they are
 *  @throws Error where what holds them is damaged or not there */
async function inflatedRows(png: Buffer, length: number, share: number): Promise<Buffer> {
  const parts = Array.from(pngChunks(png)).filter(({ type }) => type === "IDAT");
  const likely = partsWith(parts, share * png.length + SPARE_BYTES);
  const pieces = [parts.slice(0, likely), parts.slice(likely)].map(joined);
  const { bytes, taken } = await inflateFirst(pieces, length);
  let at = 0;
  for (const { content, isWhole, isSound } of parts) {
    if (at >= taken) break;
    if (isWhole && !isSound()) throw new Error("checksum of a chunk of samples does not fit");
    at += content.length;
  }
  return bytes;
}

/** How many of the first parts hold so many bytes. */
function partsWith(parts: readonly PngChunk[], bytes: number): number {
  let sum = 0;
  const last = parts.findIndex(({ content }) => {
    sum += content.length;
    return sum >= bytes;
  });
  return last < 0 ? parts.length : last + 1;
}

function joined(parts: readonly PngChunk[]): Buffer {
  return parts.length === 1 ? parts[0].content : Buffer.concat(parts.map(({ content }) => content));
}

/** Inflates the beginning of what was deflated, in a thread of the pool.
 *  @param pieces  in their order; a later one is looked at only where those before it do not hold enough
 *  @returns `length` bytes, and how many were taken for them
 *  @throws Error where there are fewer, or what holds them is damaged */
function inflateFirst(pieces: readonly Buffer[], length: number): Promise<{ bytes: Buffer; taken: number }> {
  return new Promise((resolve, reject) => {
    // One piece of this size is given out as soon as it is full.
    const inflate = createInflate({ chunkSize: Math.max(64, length) });
    const given: Buffer[] = [];
    let missing = length;
    inflate.on("data", (bytes: Buffer) => {
      given.push(bytes);
      missing -= bytes.length;
      if (missing > 0) return;
      resolve({ bytes: given.length === 1 ? given[0] : Buffer.concat(given), taken: inflate.bytesWritten });
      inflate.destroy();
    });
    const endsEarly = () => reject(new Error("samples end too early"));
    inflate.once("end", endsEarly);
    inflate.once("error", (error: NodeJS.ErrnoException) =>
      error.code === "Z_BUF_ERROR" ? endsEarly() : reject(error),
    );
    const feed = (next: number): void => {
      if (next === pieces.length) inflate.end();
      else inflate.write(pieces[next], () => !inflate.destroyed && feed(next + 1));
    };
    feed(0);
  });
}
