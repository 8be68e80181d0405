import { expect, it } from "vitest";
import type { FollowedFront } from "../../src/one-front/follow-front.js";
import { meanFromEndToEnd } from "../../src/one-front/mean-from-end-to-end.js";
import { frames } from "../support/track.js";

/** Invented: positions and how well each frame places the front. */
function followed(positionPixels: readonly number[], standardUncertaintyPixels: readonly number[]) {
  return {
    frames: frames(positionPixels.length),
    positionPixels,
    standardUncertaintyPixels,
    motion: { slopePixelsPerFrame: 1, interceptPixels: 0 },
    line: { intercept: 0, slope: 1, slopeStandardUncertainty: 9, readingShare: 0, isRandomWalk: true },
    readings: { groupOf: (k: number) => k },
  } as unknown as FollowedFront;
}

it("the mean speed is that between the first and last frames, as sure as these are placed", () => {
  const { line } = meanFromEndToEnd(
    followed([0, 2, 2, 2, 6], [0.3, 0.3, 0.3, 0.3, 0.3]),
    [10, 11, 12, 13, 20],
  )!;
  expect(line.slope).toBeCloseTo(0.6, 12);
  expect(line.intercept).toBeCloseTo(-6, 12);
  expect(line.slopeStandardUncertainty).toBeCloseTo((0.3 * Math.SQRT2) / 10, 12);
  expect(line.isRandomWalk).toBe(false);
});

it("frames at the ends that place the front badly are left out, those between are not", () => {
  const front = meanFromEndToEnd(followed([-3, 0, 2, 2, 5, 9], [0.9, 0.3, 0.3, 0.9, 0.3, 0.5]), frames(6))!;
  expect(front.frames).toEqual([1, 2, 3, 4]);
  expect(front.positionPixels).toEqual([0, 2, 2, 5]);
  expect(front.line.slope).toBeCloseTo(5 / 3, 12);
  expect(front.line.residuals[1]).toBeCloseTo(2 - 5 / 3, 12);
  // the runs of frames are still those of the same frames
  expect(front.readings.groupOf(0)).toBe(1);
});

it("one frame that places the front well tells no mean", () => {
  expect(meanFromEndToEnd(followed([0, 5], [1, 10]), frames(2))).toBeNull();
});
