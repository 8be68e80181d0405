import { inflateSync } from "node:zlib";

const HEAD_BYTES = 44;
const ENTRY_BYTES = 20;
const SFNT_HEAD_BYTES = 12;
const SFNT_ENTRY_BYTES = 16;

/** The font in a WOFF 1.0 file, its tables inflated.
 *  @returns an sfnt (OpenType) file
 *  @see W3C, WOFF File Format 1.0 (2012), sections 3 to 5 */
export function sfntOf(woff: Uint8Array): ArrayBuffer {
  const view = new DataView(woff.buffer, woff.byteOffset, woff.byteLength);
  const count = view.getUint16(12);
  const headBytes = SFNT_HEAD_BYTES + count * SFNT_ENTRY_BYTES;
  const entries = Array.from({ length: count }, (_, k) => {
    const at = HEAD_BYTES + k * ENTRY_BYTES;
    const [tag, offset, stored, length, checksum] = [0, 4, 8, 12, 16].map((field) =>
      view.getUint32(at + field),
    );
    const bytes = woff.subarray(offset, offset + stored);
    return { tag, checksum, table: stored < length ? inflateSync(bytes) : bytes };
  });
  const total = entries.reduce((sum, { table }) => sum + padded(table.length), headBytes);
  const sfnt = new Uint8Array(total);
  const out = new DataView(sfnt.buffer);
  out.setUint32(0, view.getUint32(4));
  out.setUint16(4, count);
  const power = Math.floor(Math.log2(count));
  out.setUint16(6, 16 * 2 ** power);
  out.setUint16(8, power);
  out.setUint16(10, 16 * (count - 2 ** power));
  let placed = headBytes;
  entries.forEach(({ tag, checksum, table }, k) => {
    const at = SFNT_HEAD_BYTES + k * SFNT_ENTRY_BYTES;
    [tag, checksum, placed, table.length].forEach((value, field) => {
      out.setUint32(at + 4 * field, value);
    });
    sfnt.set(table, placed);
    placed += padded(table.length);
  });
  return sfnt.buffer;
}

/** Tables begin at multiples of four bytes. */
function padded(length: number): number {
  return 4 * Math.ceil(length / 4);
}
