import { closeSync, openSync, readSync, statSync } from "node:fs";
import { drawnMark } from "@frontpace/report/words";

/** Bytes in which the metadata of a PNG that was drawn here stands, and the most that those of a clip take. */
const PNG_HEAD = 4096;
const MOST_CLIP_HEAD = 1 << 24;

/** Whether a PNG or an MP4 says in its metadata that frontpace drew it; false for all other files, and for what cannot be read.
 *  @see W3C PNG specification, third edition, 5.6: metadata stand ahead of the samples; ISO/IEC 14496-12:2022, 4.2 and 8.2.1 (from memory) */
export function isDrawn(path: string): boolean {
  let file: number;
  try {
    // A pipe would be waited for.
    if (!statSync(path).isFile()) return false;
    file = openSync(path, "r");
  } catch {
    return false;
  }
  try {
    return (/\.png$/i.test(path) ? pngHead(file) : clipHead(file)).includes(drawnMark);
  } catch {
    return false;
  } finally {
    closeSync(file);
  }
}

function pngHead(file: number): Buffer {
  const head = bytesAt(file, 0, PNG_HEAD);
  const samples = head.indexOf("IDAT");
  return samples === -1 ? head : head.subarray(0, samples);
}

/** The box of a clip that holds all that is said of it. */
function clipHead(file: number): Buffer {
  for (let at = 0; ; ) {
    const header = bytesAt(file, at, 16);
    if (header.length < 16) return header.subarray(0, 0);
    const size = header.readUInt32BE(0);
    // 1: it stands behind the name, in 64 bits.
    const length = size === 1 ? Number(header.readBigUInt64BE(8)) : size;
    if (header.toString("latin1", 4, 8) === "moov")
      return bytesAt(file, at, Math.min(length, MOST_CLIP_HEAD));
    if (length < 8) return header.subarray(0, 0);
    at += length;
  }
}

/** So many bytes, or what is there of them. */
function bytesAt(file: number, at: number, length: number): Buffer {
  const bytes = Buffer.alloc(length);
  return bytes.subarray(0, readSync(file, bytes, 0, length, at));
}
