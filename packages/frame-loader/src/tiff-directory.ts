import { FrameLoadError } from "./frame-load-error.js";
import type { PositionedFile } from "./positioned-file.js";
import { corrupt } from "./read-header.js";

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
/** Strips or tiles of a page, at most. */
const MOST_CHUNKS = 1 << 20;
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

/** Reads the directory of a page.
 *  @throws FrameLoadError `corrupt-frame`, `unsupported-frame`
 *  @see TIFF 6.0 (Aldus, 1992), sections 2, 8, 9, 14 and 15; BigTIFF: the form agreed on for LibTIFF 4.0 */
export async function readDirectory(
  file: PositionedFile,
  form: TiffForm,
  at: number,
): Promise<TiffDirectory> {
  const { bigEndian, isBig } = form;
  const [countBytes, entryBytes, placeBytes] = isBig ? [8, 20, 8] : [2, 12, 4];
  const head = await file.read(at, countBytes);
  const entries = isBig ? wide(head, 0, bigEndian) : bigEndian ? head.readUInt16BE(0) : head.readUInt16LE(0);
  if (!(entries >= 1 && entries <= MOST_ENTRIES))
    throw corrupt(file.name, `has a directory of ${entries} entries at byte ${at}`, "export it again");
  const bytes = await file.read(at + countBytes, entries * entryBytes + placeBytes);
  const places = new Map<number, number>();
  for (let k = 0; k < entries; k++) {
    const from = k * entryBytes;
    places.set(bigEndian ? bytes.readUInt16BE(from) : bytes.readUInt16LE(from), from);
  }
  const values = async (tag: number): Promise<number[] | null> => {
    const from = places.get(tag);
    if (from === undefined) return null;
    const type = bigEndian ? bytes.readUInt16BE(from + 2) : bytes.readUInt16LE(from + 2);
    const count = isBig
      ? wide(bytes, from + 4, bigEndian)
      : bigEndian
        ? bytes.readUInt32BE(from + 4)
        : bytes.readUInt32LE(from + 4);
    const size = TYPE_BYTES[type];
    if (size === undefined || count > MOST_CHUNKS)
      throw corrupt(file.name, `has ${count} values of type ${type} for tag ${tag}`, "export it again");
    const inline = from + (isBig ? 12 : 8);
    const data =
      size * count <= placeBytes
        ? bytes.subarray(inline, inline + size * count)
        : await file.read(place(bytes, inline, form), size * count);
    return Array.from({ length: count }, (_, k) => number(data, k * size, type, bigEndian));
  };
  const one = async (tag: number, otherwise: number): Promise<number> =>
    (await values(tag))?.[0] ?? otherwise;

  const rows = await one(257, 0);
  const columns = await one(256, 0);
  const bits = (await values(258)) ?? [1];
  const photometric = await one(262, BLACK_IS_ZERO);
  const samples = await one(277, 1);
  const format = await one(339, 1);
  const compression = COMPRESSIONS[await one(259, 1)];
  const predictor = await one(317, 1);
  const bitDepth = bits[0];
  const isGrey = photometric === WHITE_IS_ZERO || photometric === BLACK_IS_ZERO;
  const isKnown =
    bits.every((value) => value === bitDepth) &&
    ((format === 1 && (bitDepth === 8 || bitDepth === 16)) || (format === 3 && bitDepth === 32)) &&
    ((isGrey && samples === 1) || (photometric === RGB && samples === 3));
  if (!isKnown || compression === undefined || (predictor !== 1 && !(predictor === 2 && bitDepth !== 32)))
    throw new FrameLoadError(
      "unsupported-frame",
      `${file.name} holds a page of ${samples} channel(s) of ${bits.join(", ")} bits (photometric ${photometric}, sample format ${format}, compression ${await one(259, 1)}, predictor ${predictor}): export grey or RGB frames of 8 or 16 bits, uncompressed or with LZW, Deflate or PackBits`,
      { file: file.name },
    );
  const tileColumns = await one(322, 0);
  const isTiled = tileColumns > 0;
  const chunkRows = isTiled ? await one(323, 0) : Math.min(rows, await one(278, rows));
  const chunkColumns = isTiled ? tileColumns : columns;
  const offsets = (await values(isTiled ? 324 : 273)) ?? [];
  const isPlanar = samples > 1 && (await one(284, 1)) === 2;
  const wanted = Math.ceil(rows / chunkRows) * Math.ceil(columns / chunkColumns) * (isPlanar ? samples : 1);
  const chunkBytes = chunkRows * chunkColumns * (bitDepth / 8) * (isPlanar ? 1 : samples);
  const byteCounts =
    (await values(isTiled ? 325 : 279)) ?? (compression === "none" ? offsets.map(() => chunkBytes) : []);
  if (!(rows >= 1 && columns >= 1 && wanted >= 1 && wanted <= MOST_CHUNKS))
    throw corrupt(
      file.name,
      `states a picture of ${columns} x ${rows} pixels in pieces of ${chunkColumns} x ${chunkRows}`,
      "export it again",
    );
  if (offsets.length !== wanted || byteCounts.length !== wanted)
    throw corrupt(
      file.name,
      `lists ${offsets.length} pieces of a page that has ${wanted}`,
      "export it again",
    );
  return {
    rows,
    columns,
    bitDepth: bitDepth as 8 | 16 | 32,
    channels: samples as 1 | 3,
    isPlanar,
    compression,
    isDifferenced: predictor === 2,
    chunkRows,
    chunkColumns,
    offsets,
    byteCounts,
    nextAt: place(bytes, entries * entryBytes, form),
  };
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
