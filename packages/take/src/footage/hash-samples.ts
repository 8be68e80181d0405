import { createHash } from "node:crypto";
import type { FrameRegion, FrameSource } from "@frontpace/tracker";

/** Hashes samples as they are read, so that nothing has to be read for it: SHA-256 over each frame of the first pass in
 *  order, its number as a signed 64-bit big-endian integer, then the samples of the part that was read, row by row.
 *  The same samples in another kind of file have the same.
 *  @returns the frames, to be read in place of those given, and once the first pass is over the digest, 64 lower-case
 *    hexadecimal digits, and the part that was read, null where there was no pass */
export function hashSamples(frames: FrameSource): {
  readonly hashed: FrameSource;
  readonly digest: () => string;
  readonly part: () => FrameRegion | null;
} {
  const hash = createHash("sha256");
  let part: FrameRegion | null = null;
  async function* hashing(read: ReturnType<FrameSource["frames"]>) {
    for await (const numbered of read) {
      hash.update(numberHead(numbered.number));
      hash.update(bytesOf(numbered.frame));
      yield numbered;
    }
  }
  const { numbers, rows, columns, bitDepth, roundingStep } = frames;
  return {
    hashed: {
      numbers,
      rows,
      columns,
      bitDepth,
      ...(roundingStep && { roundingStep }),
      frames(range, region, options) {
        const read = frames.frames(range, region, options);
        if (part) return read;
        part = region ?? { row: 0, column: 0, rows, columns };
        return hashing(read);
      },
    },
    digest: () => hash.digest("hex"),
    part: () => part,
  };
}

function numberHead(number: number): Buffer {
  const head = Buffer.alloc(8);
  head.writeBigInt64BE(BigInt(number));
  return head;
}

/** Samples row by row, copied only where they do not lie so. */
function bytesOf({
  data,
  shape: [rows, columns],
  stride: [byRow, byColumn],
  offset,
}: {
  readonly data: Uint8Array | Uint16Array | Float32Array;
  readonly shape: readonly number[];
  readonly stride: readonly number[];
  readonly offset: number;
}): Uint8Array {
  const count = rows * columns;
  const liesSo = byColumn === 1 && byRow === columns;
  let samples = data;
  if (!liesSo) {
    samples = new (data.constructor as new (length: number) => typeof data)(count);
    for (let r = 0, at = 0; r < rows; r++)
      for (let c = 0; c < columns; c++, at++) samples[at] = data[offset + r * byRow + c * byColumn];
  }
  const from = samples.byteOffset + (liesSo ? offset : 0) * samples.BYTES_PER_ELEMENT;
  return new Uint8Array(samples.buffer, from, count * samples.BYTES_PER_ELEMENT);
}
