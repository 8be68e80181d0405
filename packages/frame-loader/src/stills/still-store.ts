import { readFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { unreadableFrame } from "../samples/frame-faults.js";
import type { FrameKind } from "../samples/frame-header.js";
import { lightOf } from "../samples/light-table.js";
import type { Transfer } from "../samples/transfer.js";
import type { FrameStore } from "../sequence/frame-store.js";
import { decodingBytes } from "../sequence/read-ahead-depth.js";
import type { FrameWarning } from "../types.js";
import { type BadStill, skippedFrames } from "./bad-stills.js";
import { checkUnchanged, decodeFrame, type KnownStill } from "./decode-frame.js";
import { hashStills } from "./hash-stills.js";
import { missingFrames } from "./missing-frames.js";
import { stillNames } from "./still-names.js";

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
export function stillStore(opened: OpenedStills): FrameStore {
  const { folder, kind, stills, step, warnings, skipped, transfer } = opened;
  const numbers = stills.map(({ number }) => number);
  const { table, roundingStep } = lightOf(transfer, kind);
  return {
    name: basename(folder),
    kind,
    numbers,
    warnings,
    ...(roundingStep && { roundingStep }),
    isDecoded: stills.some(({ plain }) => plain === undefined),
    checkFrame: (index) => checkUnchanged(folder, stills[index].file, stills[index].stamp),
    load: (index, region) => decodeFrame(folder, stills[index], kind, region, table),
    loadingBytes: (region) => decodingBytes(kind, region, table !== null),

    warningsWithin({ start, end }) {
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

    hash: ({ start, end }, signal) => hashStills(folder, stills.slice(start, end), signal),

    async *stills({ start, end }, signal) {
      const wanted = stills.slice(start, end);
      const names = stillNames(wanted, step);
      for (const [i, { file, number, stamp }] of wanted.entries()) {
        signal?.throwIfAborted();
        await checkUnchanged(folder, file, stamp);
        yield { number, name: names[i], bytes: await readStill(folder, file, signal) };
      }
    },

    async checkUnchanged() {},
    async close() {},
  };
}

async function readStill(folder: string, file: string, signal: AbortSignal | undefined): Promise<Uint8Array> {
  try {
    return await readFile(join(folder, file), { signal });
  } catch (cause) {
    signal?.throwIfAborted();
    throw unreadableFrame(file, cause);
  }
}
