import { createHash } from "node:crypto";
import { basename } from "node:path";
import type { Container } from "../places/container.js";
import { frameOf } from "../samples/frame-of.js";
import { lightOf } from "../samples/light-table.js";
import type { Transfer } from "../samples/transfer.js";
import type { FrameStore } from "../sequence/frame-store.js";
import { encodeStill } from "../stills/encode-still.js";
import { numberHead } from "../stills/hash-stills.js";
import { madeNames } from "../stills/still-names.js";

/** The frames of a container, numbered from 0 in steps of `frameStep`. Their hash is over samples, so that the same
 *  frames in another container have the same. */
export function containerStore(
  path: string,
  container: Container,
  { frameStep, transfer }: { readonly frameStep: number; readonly transfer: Transfer },
): FrameStore {
  const { kind, count, warnings } = container;
  const { table, roundingStep } = lightOf(transfer, kind);
  const whole = { row: 0, column: 0, rows: kind.rows, columns: kind.columns };
  const sampleBytes = (kind.bitDepth / 8) * (kind.colour ? 3 : 1);
  const valueBytes = kind.colour || table ? 4 : 0;
  const numbers = Array.from({ length: count }, (_, index) => index * frameStep);
  return {
    name: basename(path),
    kind,
    numbers,
    warnings,
    ...(roundingStep && { roundingStep }),
    isDecoded: container.isDecoded,
    checkFrame: () => container.checkUnchanged(),
    load: async (index, region, signal) =>
      frameOf(await container.readSamples(index, region, signal), kind, region, table),
    loadingBytes: (region) =>
      container.readingBytes(region) + region.rows * region.columns * (sampleBytes + valueBytes),
    warningsWithin: () => warnings,

    async hash({ start, end }, signal) {
      const hash = createHash("sha256");
      for (let index = start; index < end; index++) {
        signal?.throwIfAborted();
        const { buffer, byteOffset, byteLength } = await container.readSamples(index, whole, signal);
        hash.update(numberHead(numbers[index]));
        hash.update(new Uint8Array(buffer, byteOffset, byteLength));
      }
      await container.checkUnchanged();
      signal?.throwIfAborted();
      return hash.digest("hex");
    },

    async *stills({ start, end }, signal) {
      const names = madeNames(numbers.slice(start, end));
      for (let index = start; index < end; index++) {
        signal?.throwIfAborted();
        const samples = await container.readSamples(index, whole, signal);
        const { extension, bytes } = await encodeStill(samples, kind);
        yield { number: numbers[index], name: names[index - start] + extension, bytes };
      }
    },

    checkUnchanged: () => container.checkUnchanged(),
    close: () => container.close(),
  };
}
