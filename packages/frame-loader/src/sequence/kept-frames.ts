import ndarray from "ndarray";
import type { Frame, Region } from "../types.js";
import type { FrameStore } from "./frame-store.js";

/** A store whose pictures are decoded once: what was loaded whole is kept for the next pass, where all frames of the take fit in
 *  so many bytes. A frame that is written to meanwhile is noticed as ever.
 *  @param mostBytes  of all decoded frames together, >= 0 */
export function keptFrames(store: FrameStore, mostBytes: number): FrameStore {
  const { rows, columns } = store.kind;
  const whole = { row: 0, column: 0, rows, columns };
  if (!store.isDecoded || store.numbers.length * store.loadingBytes(whole) > mostBytes) return store;
  const kept = new Map<number, Frame>();
  return {
    ...store,
    async load(index, region, signal) {
      const known = kept.get(index);
      if (known) {
        await store.checkFrame(index);
        return partOf(known, region);
      }
      const frame = await store.load(index, region, signal);
      if (region.rows === rows && region.columns === columns) kept.set(index, frame);
      return frame;
    },
    async close() {
      kept.clear();
      await store.close();
    },
  };
}

/** A copy of a part of a frame; of the whole the frame itself. */
function partOf(frame: Frame, { row, column, rows, columns }: Region): Frame {
  const width = frame.shape[1];
  if (rows === frame.shape[0] && columns === width) return frame;
  const samples = frame.data;
  const part = samples.slice(0, rows * columns);
  for (let r = 0; r < rows; r++) {
    const from = (row + r) * width + column;
    part.set(samples.subarray(from, from + columns), r * columns);
  }
  return ndarray(part, [rows, columns]);
}
