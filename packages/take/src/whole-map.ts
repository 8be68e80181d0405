import type { ArrivalMap, ArrivalSource } from "@frontpace/arrival";
import type { FrameRange } from "./check-against-frames.js";
import type { Settings } from "./settle.js";
import type { MeasureContext } from "./types.js";

/** A map of the whole picture in the frames that are used. */
export async function wholeMap(
  frames: ArrivalSource,
  { cell }: Settings,
  { start, end }: FrameRange,
  { signal, onProgress }: MeasureContext,
): Promise<ArrivalMap> {
  const { arrivalMap } = await import("@frontpace/arrival");
  return arrivalMap(frames, {
    firstFrame: frames.numbers[start],
    lastFrame: frames.numbers[end - 1],
    ...(cell !== null && { cell }),
    ...(signal && { signal }),
    ...(onProgress && { onProgress }),
  });
}
