/** How numbers lie in a TIFF. */
export interface TiffForm {
  readonly bigEndian: boolean;
  /** BigTIFF: places in the file have 8 bytes. */
  readonly isBig: boolean;
  /** Of the first directory. */
  readonly firstAt: number;
}

/** Bytes of a value by its type: BYTE, SHORT, LONG, LONG8 and the others that may come by. */
export const TYPE_BYTES: Readonly<Record<number, number>> = {
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

/** A place in the file. */
export function place(bytes: Buffer, at: number, { isBig, bigEndian }: TiffForm): number {
  if (isBig) return wide(bytes, at, bigEndian);
  return bigEndian ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at);
}

/** Eight bytes as a number; those too large to count with lie behind the end of any file. */
export function wide(bytes: Buffer, at: number, bigEndian: boolean): number {
  return Number(bigEndian ? bytes.readBigUInt64BE(at) : bytes.readBigUInt64LE(at));
}

/** A value of a tag. */
export function number(bytes: Buffer, at: number, type: number, bigEndian: boolean): number {
  if (type === 3) return bigEndian ? bytes.readUInt16BE(at) : bytes.readUInt16LE(at);
  if (type === 4 || type === 13) return bigEndian ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at);
  if (type === 16 || type === 18) return wide(bytes, at, bigEndian);
  return bytes[at];
}
