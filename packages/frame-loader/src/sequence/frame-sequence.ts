import { FrameLoadError } from "../frame-load-error.js";
import type { Frame, FrameSequence, NumberedFrame, Region } from "../types.js";
import { abortable } from "./abortable.js";
import { checkRange } from "./check-range.js";
import { checkRegion } from "./check-region.js";
import type { FrameStore } from "./frame-store.js";
import { readAhead } from "./read-ahead.js";
import { readAheadDepth } from "./read-ahead-depth.js";

/** The frames of a store as they are asked for: checked, read ahead, and closed once. */
export function frameSequence(store: FrameStore): FrameSequence {
  const { name, numbers, warnings, roundingStep } = store;
  const { rows, columns, bitDepth, colour } = store.kind;
  let closed = false;

  const checkOpen = (): void => {
    if (closed) {
      throw new FrameLoadError("closed", `the sequence ${name} has been closed: open it again to read on`);
    }
  };
  const load = async (index: number, region: Region, signal?: AbortSignal): Promise<Frame> => {
    checkOpen();
    return store.load(index, region, signal);
  };

  return {
    numbers,
    rows,
    columns,
    bitDepth,
    colour,
    ...(roundingStep && { roundingStep }),
    name,
    warnings,

    warningsWithin(range) {
      return store.warningsWithin(checkRange(range, numbers.length));
    },

    async read(index, region, options = {}) {
      checkOpen();
      if (!Number.isInteger(index) || index < 0 || index >= numbers.length) {
        throw new RangeError(`index must be a whole number from 0 to ${numbers.length - 1}, got ${index}`);
      }
      const wanted = checkRegion(region, rows, columns);
      options.signal?.throwIfAborted();
      return abortable(load(index, wanted, options.signal), options.signal);
    },

    frames(range, region, options = {}) {
      checkOpen();
      const wanted = checkRegion(region, rows, columns);
      const plan = {
        ...checkRange(range, numbers.length),
        depth: readAheadDepth(store.loadingBytes(wanted)),
        load: async (index: number): Promise<NumberedFrame> => ({
          index,
          number: numbers[index],
          frame: await load(index, wanted, options.signal),
        }),
        signal: options.signal,
      };
      async function* thenChecked() {
        yield* readAhead(plan);
        await store.checkUnchanged();
      }
      return { [Symbol.asyncIterator]: thenChecked };
    },

    async hash(range, options = {}) {
      checkOpen();
      return store.hash(checkRange(range, numbers.length), options.signal);
    },

    async checkUnchanged() {
      checkOpen();
      await store.checkUnchanged();
    },

    stills(range, options = {}) {
      checkOpen();
      return store.stills(checkRange(range, numbers.length), options.signal);
    },

    async close() {
      if (closed) return;
      closed = true;
      await store.close();
    },
  };
}
