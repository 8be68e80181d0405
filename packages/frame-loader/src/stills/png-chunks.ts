import zlib from "node:zlib";

export const PNG_SIGNATURE = Buffer.from("89504e470d0a1a0a", "hex");

/** One chunk of a PNG. */
export interface PngChunk {
  readonly type: string;
  /** What is there of its content: less than it states in a file that is cut short. */
  readonly content: Buffer;
  readonly isWhole: boolean;
  /** The checksum stored behind the content, and whether type and content have it. */
  isSound(): boolean;
}

/** Whether this Node can work out checksums; from 20.15 on it can. */
export const canCheckChunks = typeof zlib.crc32 === "function";

/** Chunks from a place in a PNG on, as far as the bytes go.
 *  @see W3C PNG specification, third edition, section 5.3 */
export function* pngChunks(bytes: Buffer, from = PNG_SIGNATURE.length): Generator<PngChunk> {
  for (let at = from; at + 8 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    const contentAt = at + 8;
    const end = contentAt + length;
    const typeAt = at + 4;
    const isWhole = end + 4 <= bytes.length;
    yield {
      type: bytes.toString("latin1", typeAt, contentAt),
      content: bytes.subarray(contentAt, end),
      isWhole,
      isSound: () => isWhole && zlib.crc32(bytes.subarray(typeAt, end)) === bytes.readUInt32BE(end),
    };
    at = end + 4;
  }
}
