import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { join } from "node:path";
import { unreadableFrame } from "../samples/frame-faults.js";
import { checkUnchanged, type KnownStill } from "./decode-frame.js";

/** SHA-256 over numbered files, streamed: for each its number as a signed 64-bit big-endian integer, then its
 *  bytes.
 *  @returns 64 lower-case hexadecimal digits
 *  @throws FrameLoadError `unreadable-frame` or `changed-frame`; signal.reason once the signal has aborted */
export async function hashStills(
  folder: string,
  stills: readonly (KnownStill & { readonly number: number })[],
  signal: AbortSignal | undefined,
): Promise<string> {
  const hash = createHash("sha256");
  for (const { file, number, stamp } of stills) {
    signal?.throwIfAborted();
    await checkUnchanged(folder, file, stamp);
    hash.update(numberHead(number));
    const stream = createReadStream(join(folder, file), { signal, highWaterMark: 1 << 20 });
    try {
      for await (const chunk of stream) hash.update(chunk as Buffer);
    } catch (cause) {
      signal?.throwIfAborted();
      throw unreadableFrame(file, cause);
    }
  }
  signal?.throwIfAborted();
  return hash.digest("hex");
}

/** A frame number as a signed 64-bit big-endian integer. */
export function numberHead(number: number): Buffer {
  const head = Buffer.alloc(8);
  head.writeBigInt64BE(BigInt(number));
  return head;
}
