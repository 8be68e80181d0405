import { FrameLoadError } from "../frame-load-error.js";
import { corrupt } from "../samples/frame-faults.js";
import type { PositionedFile } from "./positioned-file.js";
import { number, place, type TiffForm, TYPE_BYTES, wide } from "./tiff-numbers.js";
import { checkSize } from "./whole-frames.js";

/** A page that is no picture of its own: a smaller copy of another, or its mask. */
export interface TiffCompanion {
  readonly isCompanion: true;
  readonly nextAt: number;
}

/** One page: what its directory says of its samples, and where they lie. */
export interface TiffDirectory {
  readonly isCompanion: false;
  readonly rows: number;
  readonly columns: number;
  readonly bitDepth: 8 | 16 | 32;
  readonly channels: 1 | 3;
  /** Samples stored of a pixel: one more than its channels where there is transparency, one where it is an index. */
  readonly pixelSamples: number;
  /** Red, green and blue of every index, 8 bits; null where samples are no indices. */
  readonly palette: Uint8Array | null;
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
  /** Where its description stands. */
  readonly text: { readonly at: number; readonly length: number } | null;
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
const PALETTE = 3;
/** Bits of NewSubfileType: a copy of lower resolution, a mask of transparency. */
const COMPANION_BITS = 0b101;
/** SubfileType of a copy of lower resolution, in older files. */
const OLD_REDUCED = 2;
/** ExtraSamples that are transparency. */
const TRANSPARENCY = new Set([1, 2]);
/** SampleFormat 4 is undefined, and read as whole numbers. */
const WHOLE_FORMATS = new Set([1, 4]);

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
): Promise<TiffDirectory | TiffCompanion> {
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
  /** Type of a tag, how many values it has, and the byte in the file at which they begin. */
  const entryOf = (tag: number) => {
    const from = places.get(tag);
    if (from === undefined) return null;
    const type = bigEndian ? bytes.readUInt16BE(from + 2) : bytes.readUInt16LE(from + 2);
    const stated = isBig
      ? wide(bytes, from + 4, bigEndian)
      : bigEndian
        ? bytes.readUInt32BE(from + 4)
        : bytes.readUInt32LE(from + 4);
    const size = TYPE_BYTES[type];
    const inline = from + (isBig ? 12 : 8);
    const isInline = size !== undefined && size * stated <= placeBytes;
    return {
      ...{ type, stated, size },
      valuesAt: isInline ? at + countBytes + inline : place(bytes, inline, form),
    };
  };
  /** The first values of a tag, up to `wanted` of them; with `isExact` it is an error if it states another number. */
  const values = async (tag: number, wanted: number, isExact = false): Promise<number[] | null> => {
    const entry = entryOf(tag);
    if (!entry) return null;
    const { type, stated, size, valuesAt } = entry;
    if (size === undefined || (isExact && stated !== wanted))
      throw corrupt(
        file.name,
        `has ${stated} values of type ${type} for tag ${tag}${isExact ? `, ${wanted} are wanted` : ""}`,
        "export it again",
      );
    const count = Math.min(stated, wanted);
    const data = await bytesAt(valuesAt, size * count);
    return Array.from({ length: count }, (_, k) => number(data, k * size, type, bigEndian));
  };
  const one = async (tag: number, otherwise: number): Promise<number> =>
    (await values(tag, 1))?.[0] ?? otherwise;

  const nextAt = place(bytes, entries * entryBytes, form);
  if (((await one(254, 0)) & COMPANION_BITS) !== 0 || (await one(255, 0)) === OLD_REDUCED)
    return { isCompanion: true, nextAt };
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
  const isIndexed = photometric === PALETTE && bitDepth === 8;
  const opaque = samples - (TRANSPARENCY.has(await one(338, 0)) ? 1 : 0);
  const isKnown =
    bits.every((value) => value === bitDepth) &&
    ((WHOLE_FORMATS.has(format) && (bitDepth === 8 || bitDepth === 16)) ||
      (format === 3 && bitDepth === 32)) &&
    ((isGrey && opaque === 1) || (photometric === RGB && opaque === 3) || (isIndexed && samples === 1));
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
  const text = entryOf(270);
  const colours = isIndexed ? await values(320, 3 * 2 ** bitDepth, true) : null;
  if (isIndexed && !colours) throw corrupt(file.name, "does not say what its colours are", "export it again");
  return {
    isCompanion: false,
    rows,
    columns,
    bitDepth: bitDepth as 8 | 16 | 32,
    channels: isGrey ? 1 : 3,
    pixelSamples: samples,
    palette: colours && paletteOf(colours),
    isPlanar,
    compression,
    isInverted: photometric === WHITE_IS_ZERO && bitDepth !== 32,
    isDifferenced: predictor === 2,
    chunkRows,
    chunkColumns,
    offsets,
    byteCounts,
    text: text && { at: text.valuesAt, length: text.stated },
    nextAt,
  };
}

/** @param colours  all of red, then green and blue, 16 bits; some writers have 8 bits in them
 *  @returns red, green, blue of one index behind those of the other, 8 bits */
function paletteOf(colours: readonly number[]): Uint8Array {
  const count = colours.length / 3;
  const shift = colours.some((value) => value > 255) ? 8 : 0;
  return Uint8Array.from(colours, (_, k) => colours[(k % 3) * count + Math.floor(k / 3)] >> shift);
}

/** Whether the rows of an uncompressed page lie one behind the other. */
export function liesInOnePiece(page: TiffDirectory): boolean {
  const { columns, bitDepth, pixelSamples, isPlanar, chunkRows, chunkColumns, offsets } = page;
  const chunkBytes = chunkRows * columns * pixelSamples * (bitDepth / 8);
  return (
    page.compression === "none" &&
    !isPlanar &&
    chunkColumns === columns &&
    offsets.every((offset, k) => offset === offsets[0] + k * chunkBytes)
  );
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
