import { runsTest } from "@frontpace/fit";
import type { FollowedFront } from "./follow-front.js";

/** Fewer runs of one sign than this many standard deviations below what random order gives, and the residuals are not in
 *  random order. */
const FEW_RUNS = -2.3;

/** Whether the front stays on one side of its line for more frames at a time than chance explains, or departs from it as a
 *  random walk would: it wanders slowly, or its speed varies on the way. Neighbouring frames of a slow front share the levels that place it, and their readings lie
 *  together without any wander: that alone does not count.
 *  @param frameNumbers  of the frames that `front.frames` counts */
export function areResidualsRandom(front: FollowedFront, frameNumbers: readonly number[]): boolean {
  const { frames, positionPixels, line } = front;
  if (line.isRandomWalk) return false;
  if (line.wander.standardDeviation === 0) return true;
  const residuals = frames.map((i, k) => positionPixels[k] - line.intercept - line.slope * frameNumbers[i]);
  return runsTest(residuals) > FEW_RUNS;
}
