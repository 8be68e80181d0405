import { describe, expect, it } from "vitest";
import { reachesTooFar, runsLikeAFront } from "../../src/picture-motion/like-a-front.js";
import type { PictureShift } from "../../src/picture-motion/picture-shift.js";
import { reading } from "../support/reading.js";

const frameNumbers = Array.from({ length: 30 }, (_, i) => i);

/** Invented. What is not looked at is left out. */
function shiftOf(pixelsIn: (frame: number) => number): PictureShift {
  return { shiftPixels: Float64Array.from(frameNumbers, pixelsIn) } as unknown as PictureShift;
}

describe("reachesTooFar", () => {
  it("allows a fifth of the path, between the frames that tell", () => {
    const shift = shiftOf((i) => (i === 3 ? Number.NaN : i));
    expect(reachesTooFar(shift, 146)).toBe(false);
    expect(reachesTooFar(shift, 144)).toBe(true);
  });
});

describe("runsLikeAFront", () => {
  const fronts = [reading({ slopePixelsPerFrame: 1.5 })];
  const wander = (i: number) => 4 * Math.sin(i / 3);

  it("is so for a steady run at the front's speed", () => {
    expect(
      runsLikeAFront(
        shiftOf((i) => 1.4 * i),
        frameNumbers,
        fronts,
        true,
      ),
    ).toBe(true);
  });
  it("is not so for a kick, a slow creep, or without a front", () => {
    expect(runsLikeAFront(shiftOf(wander), frameNumbers, fronts, true)).toBe(false);
    expect(
      runsLikeAFront(
        shiftOf((i) => 0.3 * i),
        frameNumbers,
        fronts,
        true,
      ),
    ).toBe(false);
    expect(
      runsLikeAFront(
        shiftOf((i) => 1.4 * i),
        frameNumbers,
        [],
        true,
      ),
    ).toBe(false);
  });
  it("lets the run of a front that was registered itself wander", () => {
    const shift = shiftOf((i) => 1.4 * i + wander(i));
    expect(runsLikeAFront(shift, frameNumbers, fronts, true)).toBe(false);
    expect(runsLikeAFront(shift, frameNumbers, fronts, false)).toBe(true);
  });
});
