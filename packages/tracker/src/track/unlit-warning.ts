import type { TrackWarning } from "../types.js";

/** Frames named one by one, at most. */
const MOST_NAMED = 12;

/** Dark frames that were left out.
 *  @param numbers  as stored */
export function unlitWarning(numbers: readonly number[]): TrackWarning {
  const named = numbers.slice(0, MOST_NAMED).join(", ");
  const more = numbers.length > MOST_NAMED ? " and so on" : "";
  return {
    code: "unlit-frames",
    message: `${numbers.length} frames (${named}${more}) are dark between lit ones, as where a pulsed light, or the shutter, is not in step with the frames; not used. Look at the timing of the light`,
  };
}
