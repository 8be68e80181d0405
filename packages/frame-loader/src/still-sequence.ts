import { basename } from "node:path";
import { abortable } from "./abortable.js";
import { checkRange } from "./check-range.js";
import { checkRegion } from "./check-region.js";
import { decodeFrame, type KnownStill } from "./decode-frame.js";
import { FrameLoadError } from "./frame-load-error.js";
import { hashStills } from "./hash-stills.js";
import { missingFrames } from "./missing-frames.js";
import { readAhead } from "./read-ahead.js";
import { readAheadDepth } from "./read-ahead-depth.js";
import type { FrameKind } from "./read-header.js";
import type { Frame, FrameSequence, FrameWarning, NumberedFrame, Region } from "./types.js";

/** Stills that were found to make one sequence. */
export interface OpenedStills {
  /** Absolute path. */
  readonly folder: string;
  readonly kind: FrameKind;
  /** In order of number. */
  readonly stills: readonly (KnownStill & { readonly number: number })[];
  /** Between the numbers of neighbours of which none is missing. */
  readonly step: number;
  readonly warnings: readonly FrameWarning[];
}

/** The frames of a folder of checked stills. */
export function stillSequence({ folder, kind, stills, step, warnings }: OpenedStills): FrameSequence {
  const { rows, columns, bitDepth, colour } = kind;
  const name = basename(folder);
  const numbers = stills.map(({ number }) => number);
  let closed = false;

  const checkOpen = (): void => {
    if (closed) {
      throw new FrameLoadError(
        "closed",
        `the sequence ${name} has been closed: open the folder again to read on`,
      );
    }
  };
  const load = async (index: number, region: Region): Promise<Frame> => {
    checkOpen();
    return decodeFrame(folder, stills[index], kind, region);
  };

  return {
    numbers,
    rows,
    columns,
    bitDepth,
    colour,
    name,
    warnings,

    warningsWithin(range) {
      const { start, end } = checkRange(range, stills.length);
      return warnings.flatMap((warning) =>
        warning.code === "missing-frames" ? missingFrames(numbers.slice(start, end), step) : [warning],
      );
    },

    async read(index, region, options = {}) {
      checkOpen();
      if (!Number.isInteger(index) || index < 0 || index >= stills.length) {
        throw new RangeError(`index must be a whole number from 0 to ${stills.length - 1}, got ${index}`);
      }
      const wanted = checkRegion(region, rows, columns);
      options.signal?.throwIfAborted();
      return abortable(load(index, wanted), options.signal);
    },

    frames(range, region, options = {}) {
      checkOpen();
      const wanted = checkRegion(region, rows, columns);
      const plan = {
        ...checkRange(range, stills.length),
        depth: readAheadDepth(decodingBytes(kind, wanted)),
        load: async (index: number): Promise<NumberedFrame> => ({
          index,
          number: stills[index].number,
          frame: await load(index, wanted),
        }),
        signal: options.signal,
      };
      return { [Symbol.asyncIterator]: () => readAhead(plan) };
    },

    async hash(range, options = {}) {
      checkOpen();
      const { start, end } = checkRange(range, stills.length);
      return hashStills(folder, stills.slice(start, end), options.signal);
    },

    async close() {
      closed = true;
    },
  };
}

/** Samples of the region, three channels and their luminance where the stills are in colour. */
function decodingBytes({ bitDepth, colour }: FrameKind, region: Region): number {
  const sampleBytes = bitDepth / 8;
  return region.rows * region.columns * (colour ? 3 * sampleBytes + 4 : sampleBytes);
}
