import { FrameLoadError } from "../frame-load-error.js";
import { corrupt } from "../samples/frame-faults.js";
import type { PositionedFile } from "./positioned-file.js";
import { checkSize } from "./whole-frames.js";

/** How numbers lie in a TIFF. */
export interface TiffForm {
  readonly bigEndian: boolean;
  /** BigTIFF: places in the file have 8 bytes. */
  readonly isBig: boolean;
  /** Of the first directory. */
  readonly firstAt: number;
}

/** One page: what its directory says of its samples, and where they lie. */
export interface TiffDirectory {
  readonly rows: number;
  readonly columns: number;
  readonly bitDepth: 8 | 16 | 32;
  readonly channels: 1 | 3;
  /** Channels stored beside each other in separate planes, not pixel by pixel. */
  readonly isPlanar: boolean;
  readonly compression: "none" | "lzw" | "deflate" | "packbits";
  /** White is zero: samples are turned over. */
  readonly isInverted: boolean;
  /** Rows hold differences of neighbours. */
  readonly isDifferenced: boolean;
  /** Strips are tiles as wide as the picture. */
  readonly chunkRows: number;
  readonly chunkColumns: number;
  readonly offsets: readonly number[];
  readonly byteCounts: readonly number[];
  /** Of the next directory; 0: this is the last. */
  readonly nextAt: number;
}

const COMPRESSIONS: Readonly<Record<number, TiffDirectory["compression"]>> = {
  1: "none",
  5: "lzw",
  8: "deflate",
  32946: "deflate",
  32773: "packbits",
};
/** Bytes of a value by its type: BYTE, SHORT, LONG, LONG8 and the others that may come by. */
const TYPE_BYTES: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  13: 4,
  16: 8,
  17: 8,
  18: 8,
};
const MOST_ENTRIES = 4096;
/** Of which the depth is looked at. */
const MOST_CHANNELS = 8;
/** Strips or tiles of a page, at most. */
const MOST_CHUNKS = 1 << 20;
/** Read at once where a directory begins: as a rule all of it, bytes. */
const WINDOW_BYTES = 512;
/** What a byte of compressed data gives, at most: LZW a run of 4096 for 9 bits, Deflate 258 for two (RFC 1951, 3.2.5),
 *  PackBits 128 for two. */
const MOST_EXPANDED = { none: 1, lzw: 4096, deflate: 1032, packbits: 64 } as const;
/** Pixels of a tile that is much larger than the picture, at most. */
const MOST_PADDED = 2 ** 20;
const WHITE_IS_ZERO = 0;
const BLACK_IS_ZERO = 1;
const RGB = 2;

/** @returns null where the file does not begin as a TIFF */
export function tiffForm(head: Buffer): TiffForm | null {
  const order = head.subarray(0, 2).toString("latin1");
  if ((order !== "II" && order !== "MM") || head.length < 8) return null;
  const bigEndian = order === "MM";
  const version = bigEndian ? head.readUInt16BE(2) : head.readUInt16LE(2);
  if (version === 42)
    return { bigEndian, isBig: false, firstAt: bigEndian ? head.readUInt32BE(4) : head.readUInt32LE(4) };
  if (version !== 43 || head.length < 16) return null;
  return { bigEndian, isBig: true, firstAt: wide(head, 8, bigEndian) };
}

/** What is read at once where a directory begins.
 *  @returns null where that is beyond the file */
async function windowAt(file: PositionedFile, at: number, head: Buffer): Promise<Buffer | null> {
  if (at > file.size) return null;
  if (at + WINDOW_BYTES <= head.length) return head.subarray(at);
  return file.readUpTo(at, WINDOW_BYTES);
}

/** Reads the directory of a page.
 *  @param head  bytes from the beginning of the file on, where they are known: the directory may lie in them
 *  @throws FrameLoadError `corrupt-frame`, `unsupported-frame`
 *  @see TIFF 6.0 (Aldus, 1992), sections 2, 8, 9, 14 and 15; BigTIFF: the form agreed on for LibTIFF 4.0 */
export async function readDirectory(
  file: PositionedFile,
  form: TiffForm,
  at: number,
  head: Buffer = Buffer.alloc(0),
): Promise<TiffDirectory> {
  const { bigEndian, isBig } = form;
  const [countBytes, entryBytes, placeBytes] = isBig ? [8, 20, 8] : [2, 12, 4];
  const window = await windowAt(file, at, head);
  const bytesAt = async (position: number, length: number): Promise<Buffer> => {
    const from = position - at;
    if (window && from >= 0 && from + length <= window.length) return window.subarray(from, from + length);
    return file.read(position, length);
  };
  const count = await bytesAt(at, countBytes);
  const entries = isBig
    ? wide(count, 0, bigEndian)
    : bigEndian
      ? count.readUInt16BE(0)
      : count.readUInt16LE(0);
  if (!(entries >= 1 && entries <= MOST_ENTRIES))
    throw corrupt(file.name, `has a directory of ${entries} entries at byte ${at}`, "export it again");
  const bytes = await bytesAt(at + countBytes, entries * entryBytes + placeBytes);
  const places = new Map<number, number>();
  for (let k = 0; k < entries; k++) {
    const from = k * entryBytes;
    places.set(bigEndian ? bytes.readUInt16BE(from) : bytes.readUInt16LE(from), from);
  }
  /** The first values of a tag, up to `wanted` of them; with `isExact` it is an error if it states another number. */
  const values = async (tag: number, wanted: number, isExact = false): Promise<number[] | null> => {
    const from = places.get(tag);
    if (from === undefined) return null;
    const type = bigEndian ? bytes.readUInt16BE(from + 2) : bytes.readUInt16LE(from + 2);
    const stated = isBig
      ? wide(bytes, from + 4, bigEndian)
      : bigEndian
        ? bytes.readUInt32BE(from + 4)
        : bytes.readUInt32LE(from + 4);
    const size = TYPE_BYTES[type];
    if (size === undefined || (isExact && stated !== wanted))
      throw corrupt(
        file.name,
        `has ${stated} values of type ${type} for tag ${tag}${isExact ? `, ${wanted} are wanted` : ""}`,
        "export it again",
      );
    const count = Math.min(stated, wanted);
    const inline = from + (isBig ? 12 : 8);
    const data =
      size * stated <= placeBytes
        ? bytes.subarray(inline, inline + size * count)
        : await bytesAt(place(bytes, inline, form), size * count);
    return Array.from({ length: count }, (_, k) => number(data, k * size, type, bigEndian));
  };
  const one = async (tag: number, otherwise: number): Promise<number> =>
    (await values(tag, 1))?.[0] ?? otherwise;

  const rows = await one(257, 0);
  const columns = await one(256, 0);
  const bits = (await values(258, MOST_CHANNELS)) ?? [1];
  const photometric = await one(262, BLACK_IS_ZERO);
  const samples = await one(277, 1);
  const format = await one(339, 1);
  const compression = COMPRESSIONS[await one(259, 1)];
  const predictor = await one(317, 1);
  const fillOrder = await one(266, 1);
  const bitDepth = bits[0];
  const isGrey = photometric === WHITE_IS_ZERO || photometric === BLACK_IS_ZERO;
  const isKnown =
    bits.every((value) => value === bitDepth) &&
    ((format === 1 && (bitDepth === 8 || bitDepth === 16)) || (format === 3 && bitDepth === 32)) &&
    ((isGrey && samples === 1) || (photometric === RGB && samples === 3));
  // Decoders differ in whether uncompressed rows that are stated to be differences are such.
  const isPredicted = predictor === 2 && bitDepth !== 32 && compression !== "none";
  if (!isKnown || compression === undefined || fillOrder !== 1 || (predictor !== 1 && !isPredicted))
    throw new FrameLoadError(
      "unsupported-frame",
      `${file.name} holds a page of ${samples} channel(s) of ${bits.join(", ")} bits (photometric ${photometric}, sample format ${format}, compression ${await one(259, 1)}, predictor ${predictor}, fill order ${fillOrder}): export grey or RGB frames of 8 or 16 bits, uncompressed or with LZW, Deflate or PackBits`,
      { file: file.name },
    );
  const tileColumns = await one(322, 0);
  const isTiled = tileColumns > 0;
  const chunkRows = isTiled ? await one(323, 0) : Math.min(rows, await one(278, rows));
  const chunkColumns = isTiled ? tileColumns : columns;
  const isPlanar = samples > 1 && (await one(284, 1)) === 2;
  const wanted = Math.ceil(rows / chunkRows) * Math.ceil(columns / chunkColumns) * (isPlanar ? samples : 1);
  checkSize(file.name, rows, columns);
  if (
    !(
      wanted >= 1 &&
      wanted <= MOST_CHUNKS &&
      chunkRows * chunkColumns <= Math.max(MOST_PADDED, 4 * rows * columns)
    )
  )
    throw corrupt(
      file.name,
      `states a picture of ${columns} x ${rows} pixels in pieces of ${chunkColumns} x ${chunkRows}`,
      "export it again",
    );
  const offsets = await values(isTiled ? 324 : 273, wanted, true);
  if (!offsets) throw corrupt(file.name, "does not say where the samples of a page lie", "export it again");
  const sizes = piecesOf({ rows, chunkRows, chunkColumns, isTiled, wanted });
  const pixelBytes = (bitDepth / 8) * (isPlanar ? 1 : samples);
  const stated = await values(isTiled ? 325 : 279, wanted, true);
  if (!stated && compression !== "none")
    throw corrupt(file.name, "does not say how many bytes a strip or tile has", "export it again");
  const byteCounts = stated ?? sizes.map((pixels) => pixels * pixelBytes);
  const thin = byteCounts.findIndex((count, k) => count * MOST_EXPANDED[compression] < sizes[k] * pixelBytes);
  if (thin >= 0)
    throw corrupt(
      file.name,
      `has a strip or tile of ${byteCounts[thin]} bytes, too few for its ${sizes[thin]} pixels`,
      "export it again",
    );
  return {
    rows,
    columns,
    bitDepth: bitDepth as 8 | 16 | 32,
    channels: samples as 1 | 3,
    isPlanar,
    compression,
    isInverted: photometric === WHITE_IS_ZERO && bitDepth !== 32,
    isDifferenced: predictor === 2,
    chunkRows,
    chunkColumns,
    offsets,
    byteCounts,
    nextAt: place(bytes, entries * entryBytes, form),
  };
}

/** Pixels of each strip or tile; the last strip ends with the picture. */
function piecesOf(page: {
  readonly rows: number;
  readonly chunkRows: number;
  readonly chunkColumns: number;
  readonly isTiled: boolean;
  readonly wanted: number;
}): number[] {
  const { rows, chunkRows, chunkColumns, isTiled, wanted } = page;
  const down = Math.ceil(rows / chunkRows);
  return Array.from({ length: wanted }, (_, k) => {
    const height = isTiled ? chunkRows : Math.min(chunkRows, rows - (k % down) * chunkRows);
    return height * chunkColumns;
  });
}

function place(bytes: Buffer, at: number, { isBig, bigEndian }: TiffForm): number {
  if (isBig) return wide(bytes, at, bigEndian);
  return bigEndian ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at);
}

/** Eight bytes as a number; those too large to count with lie behind the end of any file. */
function wide(bytes: Buffer, at: number, bigEndian: boolean): number {
  return Number(bigEndian ? bytes.readBigUInt64BE(at) : bytes.readBigUInt64LE(at));
}

function number(bytes: Buffer, at: number, type: number, bigEndian: boolean): number {
  if (type === 3) return bigEndian ? bytes.readUInt16BE(at) : bytes.readUInt16LE(at);
  if (type === 4 || type === 13) return bigEndian ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at);
  if (type === 16 || type === 18) return wide(bytes, at, bigEndian);
  return bytes[at];
}
