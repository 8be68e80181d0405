import type { FrontShape } from "@frontpace/arrival";
import type { TrackOutcome } from "@frontpace/tracker";

/** What several fronts, or one that bends, look like along rows and columns: soft, or as if it hardly ran. */
const LOOKS_LIKE = ["no-edge", "not-resolved"];

/** The outcome of a front that was looked for along rows and columns because in the picture as a whole it is neither straight nor round, and not found
 *  there: that is said first, and is mended by a path. */
export function withoutShape(outcome: TrackOutcome, shape: FrontShape | null): TrackOutcome {
  if (outcome.status !== "not-found" || shape?.shape !== "none" || !LOOKS_LIKE.includes(outcome.reason))
    return outcome;
  const message = `what runs is neither straight nor round in the picture as a whole (${shape.reason}): several fronts, or one that bends. Give a path along which one of them runs (--path, --width). Along rows or columns: ${outcome.message}`;
  return { ...outcome, message };
}
