import type { EventSource } from "@frontpace/finder";
import type { TakeFrames } from "../types.js";

/** A take's frames as the finder reads them. */
export function eventSource(frames: TakeFrames): EventSource {
  const { numbers, rows, columns, bitDepth, roundingStep } = frames;
  return {
    numbers,
    rows,
    columns,
    bitDepth,
    ...(roundingStep && { roundingStep }),
    frames: (range, region, options) => frames.frames(range, region, options),
    async read(index, region, options) {
      for await (const { frame } of frames.frames({ start: index, end: index + 1 }, region, options))
        return frame;
      throw new RangeError(`the sequence ${frames.name} must give its frame ${numbers[index]}, got none`);
    },
  };
}
