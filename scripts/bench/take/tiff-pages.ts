import type { Picture } from "./scene.js";

const SHORT = 3;
const LONG = 4;
const LONG8 = 16;

/** Head of an uncompressed little-endian TIFF, 8 bytes, or BigTIFF, 16 bytes: the first page follows it.
 *  @see TIFF 6.0 (Aldus, 1992), section 2; BigTIFF: the form agreed on for LibTIFF 4.0 */
export function tiffHead(isBig: boolean): Buffer {
  const head = Buffer.alloc(isBig ? 16 : 8);
  head.write("II", "latin1");
  head.writeUInt16LE(isBig ? 43 : 42, 2);
  if (isBig) {
    head.writeUInt16LE(8, 4);
    head.writeBigUInt64LE(16n, 8);
  } else head.writeUInt32LE(8, 4);
  return head;
}

/** Directory of one grey page in one strip that follows it.
 *  @param at  byte at which the directory lies
 *  @param isLast  whether no page follows behind the strip */
export function tiffDirectory(
  { BYTES_PER_ELEMENT: sampleBytes, byteLength }: Pick<Picture, "BYTES_PER_ELEMENT" | "byteLength">,
  { rows, columns }: { readonly rows: number; readonly columns: number },
  at: number,
  { isBig, isLast }: { readonly isBig: boolean; readonly isLast: boolean },
): Buffer {
  const place = isBig ? LONG8 : LONG;
  const entry = isBig ? 20 : 12;
  const fieldAt = isBig ? 12 : 8;
  const countBytes = isBig ? 8 : 2;
  const tags = (dataAt: number): [number, number, number][] => [
    [256, LONG, columns],
    [257, LONG, rows],
    [258, SHORT, 8 * sampleBytes],
    [259, SHORT, 1],
    [262, SHORT, 1],
    [273, place, dataAt],
    [277, SHORT, 1],
    [278, LONG, rows],
    [279, LONG, byteLength],
  ];
  const count = tags(0).length;
  const directory = Buffer.alloc(countBytes + count * entry + (isBig ? 8 : 4));
  const dataAt = at + directory.length;
  writePlace(directory, 0, count, countBytes);
  tags(dataAt).forEach(([tag, type, value], k) => {
    const from = countBytes + k * entry;
    directory.writeUInt16LE(tag, from);
    directory.writeUInt16LE(type, from + 2);
    writePlace(directory, from + 4, 1, isBig ? 8 : 4);
    writePlace(directory, from + fieldAt, value, type === SHORT ? 2 : type === LONG ? 4 : 8);
  });
  const next = isLast ? 0 : dataAt + byteLength;
  writePlace(directory, countBytes + count * entry, next, isBig ? 8 : 4);
  return directory;
}

function writePlace(into: Buffer, at: number, value: number, bytes: number): void {
  if (bytes === 8) into.writeBigUInt64LE(BigInt(value), at);
  else into.writeUIntLE(value, at, bytes);
}
