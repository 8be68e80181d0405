import { edgeWidth, profileReach } from "./edge-profile.js";
import { type FrontMotion, smearOf } from "./joint-fit.js";

/** When a front passes a position, in frame numbers. */
export function arrivalFrame(
  { interceptPixels, slopePixelsPerFrame }: FrontMotion,
  position: number,
): number {
  return (position - interceptPixels) / slopePixelsPerFrame;
}

/** Where a motion has the front at a frame number, px. */
export function positionAt(
  { interceptPixels, slopePixelsPerFrame }: Pick<FrontMotion, "interceptPixels" | "slopePixelsPerFrame">,
  number: number,
): number {
  return interceptPixels + slopePixelsPerFrame * number;
}

/** Index of the first frame at or after a time; of none: their count.
 *  @param numbers  of the frames, increasing */
export function firstFrameFrom(numbers: readonly number[], time: number): number {
  const index = numbers.findIndex((number) => number >= time);
  return index < 0 ? numbers.length : index;
}

/** Half of the time that a front takes to pass a position but for its faint ends, frames: that for half of its reach. */
export function riseFrames(motion: FrontMotion): number {
  return (
    profileReach(motion.blurPixels, smearOf(motion), motion.form) / 2 / Math.abs(motion.slopePixelsPerFrame)
  );
}

/** Standard deviation of the front's rise at a position, frames. */
export function riseDeviationFrames(motion: FrontMotion): number {
  return edgeWidth(motion.blurPixels, smearOf(motion)) / Math.abs(motion.slopePixelsPerFrame);
}
