import { inflateSync } from "node:zlib";
import type { TiffDirectory } from "../places/tiff-directory.js";

/** Bytes that a writer may have added to the end of a strip. */
const SLACK = 65_536;
const CLEAR = 256;
const END = 257;
const FIRST = 258;
const MOST_CODES = 4096;

/** Bytes of one strip or tile.
 *  @param length  what is wanted of it, from its beginning
 *  @param whole  what it holds in all; Deflate gives all or nothing
 *  @returns exactly `length` bytes, or null where the data does not give as many */
export function decompress(
  bytes: Buffer,
  compression: Exclude<TiffDirectory["compression"], "none">,
  length: number,
  whole: number,
): Buffer | null {
  if (compression === "lzw") return lzw(bytes, length);
  if (compression === "packbits") return packBits(bytes, length);
  try {
    const inflated = inflateSync(bytes, { maxOutputLength: whole + SLACK });
    return inflated.length < length ? null : inflated.subarray(0, length);
  } catch {
    return null;
  }
}

/** @see TIFF 6.0, section 13: codes of 9 to 12 bits, the most significant first, the width one code early */
function lzw(bytes: Buffer, length: number): Buffer | null {
  const out = Buffer.alloc(length);
  // Each entry of the table is a stretch of what was put out already: that of the code before it, and one byte more.
  const from = new Int32Array(MOST_CODES);
  const size = new Int32Array(MOST_CODES);
  let next = FIRST;
  let width = 9;
  let done = 0;
  let last = -1;
  let lastAt = 0;
  let held = 0;
  let bits = 0;
  let at = 0;
  while (done < length) {
    while (bits < width) {
      if (at >= bytes.length) return null;
      held = ((held << 8) | bytes[at++]) & 0xffffff;
      bits += 8;
    }
    const code = (held >> (bits - width)) & ((1 << width) - 1);
    bits -= width;
    if (code === END) return null;
    if (code === CLEAR) {
      next = FIRST;
      width = 9;
      last = -1;
      continue;
    }
    const start = done;
    const isKnown = code < CLEAR || (code >= FIRST && code < next);
    if (!isKnown && (code !== next || last < 0)) return null;
    if (code < CLEAR) out[done++] = code;
    else {
      const [source, count] = isKnown ? [from[code], size[code]] : [lastAt, start - lastAt + 1];
      for (let k = 0; k < count && done < length; k++) out[done++] = out[source + k];
    }
    if (last >= 0 && next < MOST_CODES) {
      from[next] = lastAt;
      size[next] = start - lastAt + 1;
      next++;
    }
    if (next >= (1 << width) - 1 && width < 12) width++;
    last = code;
    lastAt = start;
  }
  return out;
}

/** @see TIFF 6.0, section 9 */
function packBits(bytes: Buffer, length: number): Buffer | null {
  const out = Buffer.alloc(length);
  let done = 0;
  let at = 0;
  while (done < length) {
    if (at >= bytes.length) return null;
    const control = bytes.readInt8(at++);
    if (control === -128) continue;
    if (control >= 0) {
      const count = Math.min(control + 1, length - done);
      if (at + count > bytes.length) return null;
      bytes.copy(out, done, at, at + count);
      at += control + 1;
      done += count;
    } else {
      if (at >= bytes.length) return null;
      const count = Math.min(1 - control, length - done);
      out.fill(bytes[at++], done, done + count);
      done += count;
    }
  }
  return out;
}
