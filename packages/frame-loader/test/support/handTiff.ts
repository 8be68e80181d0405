/** An uncompressed one-strip TIFF to write by hand. */
export interface HandTiff {
  readonly columns: number;
  readonly rows: number;
  readonly bits: 8 | 16 | 32;
  /** The strip, in the byte order of the file. */
  readonly strip: Uint8Array;
  readonly bigEndian?: boolean;
  /** 1 unsigned, 2 signed, 3 floating point. */
  readonly sampleFormat?: 1 | 2 | 3;
  /** 0 white is zero, 1 black is zero, 2 RGB, 5 separated inks. */
  readonly photometric?: 0 | 1 | 2 | 5;
  readonly channels?: 1 | 3 | 4;
  /** 1 is upright, 6 turned by a quarter. */
  readonly orientation?: number;
  /** Directories, each for the same strip. Default 1. */
  readonly pages?: number;
}

/** The directory comes before the strip, so that a file cut short still has a sound header.
 *  @see TIFF revision 6.0 (1992), section 2 */
export function handTiff(picture: HandTiff): Buffer {
  const { columns, rows, bits, strip, bigEndian = false, sampleFormat = 1, photometric = 1 } = picture;
  const { channels = 1, orientation = 1, pages = 1 } = picture;
  const put16 = (to: Buffer, value: number, at: number) =>
    bigEndian ? to.writeUInt16BE(value, at) : to.writeUInt16LE(value, at);
  const put32 = (to: Buffer, value: number, at: number) =>
    bigEndian ? to.writeUInt32BE(value, at) : to.writeUInt32LE(value, at);
  const entryCount = 11;
  const directoryBytes = 2 + 12 * entryCount + 4;
  // Behind the directories: bits and format of every channel, then the strip.
  const listsAt = 8 + pages * directoryBytes;
  const stripAt = listsAt + 16;
  const result = Buffer.alloc(stripAt + strip.length);
  result.write(bigEndian ? "MM" : "II", 0, "latin1");
  put16(result, 42, 2);
  put32(result, 8, 4);
  for (let channel = 0; channel < channels; channel += 1) {
    put16(result, bits, listsAt + 2 * channel);
    put16(result, sampleFormat, listsAt + 8 + 2 * channel);
  }
  result.set(strip, stripAt);
  for (let page = 0; page < pages; page += 1) {
    let at = 8 + page * directoryBytes;
    put16(result, entryCount, at);
    at += 2;
    const entry = (tag: number, type: 3 | 4, count: number, value: number) => {
      put16(result, tag, at);
      put16(result, type, at + 2);
      put32(result, count, at + 4);
      if (type === 3 && count === 1) put16(result, value, at + 8);
      else put32(result, value, at + 8);
      at += 12;
    };
    entry(256, 4, 1, columns);
    entry(257, 4, 1, rows);
    entry(258, 3, channels, channels === 1 ? bits : listsAt);
    entry(259, 3, 1, 1);
    entry(262, 3, 1, photometric);
    entry(273, 4, 1, stripAt);
    entry(274, 3, 1, orientation);
    entry(277, 3, 1, channels);
    entry(278, 4, 1, rows);
    entry(279, 4, 1, strip.length);
    entry(339, 3, channels, channels === 1 ? sampleFormat : listsAt + 8);
    put32(result, page + 1 < pages ? 8 + (page + 1) * directoryBytes : 0, at);
  }
  return result;
}
