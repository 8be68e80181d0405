import { basename } from "node:path";
import { abortable } from "./abortable.js";
import { type BadStill, skippedFrames } from "./bad-stills.js";
import { checkRange } from "./check-range.js";
import { checkRegion } from "./check-region.js";
import { decodeFrame, type KnownStill } from "./decode-frame.js";
import { FrameLoadError } from "./frame-load-error.js";
import { hashStills } from "./hash-stills.js";
import { lightTable } from "./light-table.js";
import { missingFrames } from "./missing-frames.js";
import { readAhead } from "./read-ahead.js";
import { decodingBytes, readAheadDepth } from "./read-ahead-depth.js";
import type { FrameKind } from "./read-header.js";
import { lightPerSample, type Transfer } from "./transfer.js";
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
  /** Stills left out as damaged, in order of number. */
  readonly skipped: readonly BadStill[];
  /** The transfer function to undo. */
  readonly transfer: Transfer;
}

/** The frames of a folder of checked stills. */
export function stillSequence(opened: OpenedStills): FrameSequence {
  const { folder, kind, stills, step, warnings, skipped, transfer } = opened;
  const { rows, columns, bitDepth, colour } = kind;
  const name = basename(folder);
  const numbers = stills.map(({ number }) => number);
  const light = transfer === "linear" || bitDepth === 32 ? null : lightTable(transfer, bitDepth);
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
    return decodeFrame(folder, stills[index], kind, region, light);
  };

  return {
    numbers,
    rows,
    columns,
    bitDepth,
    colour,
    ...(light && {
      roundingStep: (value: number) => lightPerSample(transfer, value / (light.length - 1)),
    }),
    name,
    warnings,

    warningsWithin(range) {
      const { start, end } = checkRange(range, stills.length);
      const above = numbers[start - 1] ?? Number.NEGATIVE_INFINITY;
      const below = numbers[end] ?? Number.POSITIVE_INFINITY;
      const left = skipped.filter(({ number }) => number > above && number < below);
      const known = [...numbers.slice(start, end), ...left.map(({ number }) => number)].sort((a, b) => a - b);
      return warnings.flatMap((warning) => {
        if (warning.code === "missing-frames") return missingFrames(known, step);
        if (warning.code === "frames-skipped") return skippedFrames(left, step);
        return [warning];
      });
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
        depth: readAheadDepth(decodingBytes(kind, wanted, light !== null)),
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
