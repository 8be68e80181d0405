import type { FrameSource } from "../types.js";

/** The same frames without some of them, as if their numbers were missing.
 *  @param numbers  of those left out */
export function withoutFrames(source: FrameSource, numbers: readonly number[]): FrameSource {
  const isLeftOut = new Set(numbers);
  const kept = Array.from(source.numbers.keys()).filter((index) => !isLeftOut.has(source.numbers[index]));
  const { timeFrames, roundingStep } = source;
  return {
    numbers: kept.map((index) => source.numbers[index]),
    rows: source.rows,
    columns: source.columns,
    bitDepth: source.bitDepth,
    ...(timeFrames && { timeFrames }),
    ...(roundingStep && { roundingStep }),
    async *frames({ start = 0, end = kept.length } = {}, region, options) {
      if (end <= start) return;
      let index = start;
      for await (const read of source.frames({ start: kept[start], end: kept[end - 1] + 1 }, region, options))
        if (!isLeftOut.has(read.number)) yield { ...read, index: index++ };
    },
  };
}
