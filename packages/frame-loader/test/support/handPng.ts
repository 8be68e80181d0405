import { deflateSync } from "node:zlib";

/** A PNG to write by hand, so that the checks do not rest on one library's writer alone. */
export interface HandPng {
  readonly columns: number;
  readonly rows: number;
  readonly bits: 1 | 2 | 4 | 8 | 16;
  /** 0 grey, 2 RGB, 3 palette, 4 grey with alpha, 6 RGB with alpha. */
  readonly colourType: 0 | 2 | 3 | 4 | 6;
  /** Packed rows as they are stored, without filter bytes. */
  readonly samples: Uint8Array;
  /** Chunks between IHDR and IDAT. */
  readonly chunks?: readonly (readonly [type: string, content: Uint8Array])[];
}

/** @see W3C PNG specification, third edition, sections 5 and 11 */
export function handPng({ columns, rows, bits, colourType, samples, chunks = [] }: HandPng): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(columns, 0);
  header.writeUInt32BE(rows, 4);
  header[8] = bits;
  header[9] = colourType;
  const stride = samples.length / rows;
  const filtered = Buffer.alloc(rows * (stride + 1));
  for (let row = 0; row < rows; row += 1) {
    filtered.set(samples.subarray(row * stride, (row + 1) * stride), row * (stride + 1) + 1);
  }
  return Buffer.concat([
    Buffer.from("89504e470d0a1a0a", "hex"),
    chunk("IHDR", header),
    ...chunks.map(([type, content]) => chunk(type, content)),
    chunk("IDAT", deflateSync(filtered)),
    chunk("IEND", new Uint8Array()),
  ]);
}

/** The content of a gAMA chunk. */
export function gamaChunk(gamma: number): readonly [string, Uint8Array] {
  const content = Buffer.alloc(4);
  content.writeUInt32BE(Math.round(gamma * 100_000));
  return ["gAMA", content];
}

function chunk(type: string, content: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(type, "latin1"), content]);
  const result = Buffer.alloc(body.length + 8);
  result.writeUInt32BE(content.length, 0);
  result.set(body, 4);
  result.writeUInt32BE(crc32(body), body.length + 4);
  return result;
}

function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
