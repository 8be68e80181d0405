import { expect, it } from "vitest";
import { arrivalFrame, riseFrames } from "../../src/model/passage.js";
import { reading } from "../support/reading.js";
import { expectRelative } from "../support/track.js";

it("a front passes a position in the frame in which its line is there, whichever way it runs", () => {
  for (const slopePixelsPerFrame of [2.5, -0.4]) {
    const { motion } = reading({ slopePixelsPerFrame, interceptPixels: 7 }).front!;
    for (const frame of [-3, 0, 12.5]) {
      const position = 7 + slopePixelsPerFrame * frame;
      expect(Math.abs(arrivalFrame(motion, position) - frame)).toBeLessThan(1e-12);
    }
  }
});

it("its rise is the longer the more it is blurred, the shorter the faster it runs, and the same either way", () => {
  const rise = (slopePixelsPerFrame: number, blurPixels: number) =>
    riseFrames(reading({ slopePixelsPerFrame, blurPixels }).front!.motion);
  expect(rise(-2, 1)).toBe(rise(2, 1));
  expectRelative(rise(1, 1), 2 * rise(2, 1), 1e-12);
  // Without smear half of five standard deviations of the blur and a pixel: 98 % of the change of a Gaussian edge lie within
  // it on either side.
  expectRelative(rise(1, 4) - rise(1, 2), 5, 1e-12);
});
