import { median } from "@frontpace/fit";
import type { FollowedFront } from "./follow-front.js";

/** The way ends at frames that place the front at most this many times as badly as most do: in others a part of it is
 *  out of the picture. */
const WORST_PLACED = 1.2;

/** A followed front with the chord of its way in place of the line: its mean speed from the first frame that places it
 *  well to the last, whatever it did between, as sure as these two frames place it. Where the front stands for a while or
 *  changes its speed, a line through all positions has another slope than that mean.
 *  @param frameNumbers  of the frames that `front.frames` counts
 *  @returns null where fewer than two frames place it well */
export function meanFromEndToEnd(
  front: FollowedFront,
  frameNumbers: readonly number[],
): FollowedFront | null {
  const { standardUncertaintyPixels, readings } = front;
  const worst = WORST_PLACED * median(standardUncertaintyPixels);
  const first = standardUncertaintyPixels.findIndex((u) => u <= worst);
  const end = standardUncertaintyPixels.findLastIndex((u) => u <= worst) + 1;
  if (end - first < 2) return null;
  const within = <T>(values: readonly T[]) => values.slice(first, end);
  const whole = {
    ...front,
    frames: within(front.frames),
    positionPixels: within(front.positionPixels),
    standardUncertaintyPixels: within(standardUncertaintyPixels),
    readings: { ...readings, groupOf: (k: number) => readings.groupOf(first + k) },
  };
  const line = chordOf(whole, frameNumbers);
  const motion = { ...front.motion, slopePixelsPerFrame: line.slope, interceptPixels: line.intercept };
  return { ...whole, motion, line };
}

/** The line from the first position of a followed front to its last, as sure as these two are.
 *  @param front  of two positions or more
 *  @param frameNumbers  of the frames that `front.frames` counts */
export function chordOf(front: FollowedFront, frameNumbers: readonly number[]): FollowedFront["line"] {
  const { frames, positionPixels, standardUncertaintyPixels: uncertainties } = front;
  const last = frames.length - 1;
  const [begins, ends] = [frameNumbers[frames[0]], frameNumbers[frames[last]]];
  const slope = (positionPixels[last] - positionPixels[0]) / (ends - begins);
  const intercept = positionPixels[0] - slope * begins;
  return {
    ...front.line,
    slope,
    intercept,
    slopeStandardUncertainty: Math.hypot(uncertainties[0], uncertainties[last]) / (ends - begins),
    readingShare: 1,
    isRandomWalk: false,
    residuals: positionPixels.map((position, k) => position - intercept - slope * frameNumbers[frames[k]]),
  };
}
