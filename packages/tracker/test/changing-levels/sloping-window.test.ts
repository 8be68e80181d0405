import { describe, expect, it } from "vitest";
import { slopingWindow } from "../../src/changing-levels/sloping-window.js";
import type { FrontMotion } from "../../src/model/joint-fit.js";
import { frames } from "../support/track.js";

const POSITIONS = 50;
/** Half of its rise, 2.5 blurs and half a pixel, is 2.5 frames. */
const motion: FrontMotion = {
  shape: "step",
  sense: 1,
  interceptPixels: -10,
  slopePixelsPerFrame: 1,
  blurPixels: 0.8,
  exposureFraction: 0,
  tiltSpreadPixels: 0,
};

describe("slopingWindow", () => {
  it("holds the rise and the margin on either side of the passage", () => {
    const { first, end, drift } = slopingWindow(motion, POSITIONS, frames(80), 3);
    for (let p = 0; p < POSITIONS; p++) {
      const [time, ramp] = drift!(p).columns;
      expect(time[0]).toBeCloseTo(-p - 10, 9);
      // at the passage itself, rise over the root of 2π; blur and pixel: the root of 0.8² + 1/12
      if (p + 10 < 80) expect(ramp[p + 10]).toBeCloseTo(0.8505 / Math.sqrt(2 * Math.PI), 4);
      // 2.5 + 3 frames about a whole one: five either side
      expect([first[p], end[p]]).toEqual([p + 5, p + 16]);
    }
  });

  it("ends with the take, and leaves positions out whose passage the take does not hold", () => {
    const { first, end } = slopingWindow(motion, POSITIONS, frames(30), 8);
    expect([first[0], end[0]]).toEqual([0, 21]);
    expect([first[15], end[15]]).toEqual([15, 30]);
    // passes in frame 28; 2.5 and two more frames are not there
    expect(first[18]).toBe(end[18]);
    expect(first[49]).toBe(end[49]);
  });

  it("counts frames where numbers are missing", () => {
    const numbers = frames(80).filter((number) => number < 20 || number > 22);
    const { drift } = slopingWindow(motion, POSITIONS, numbers, 3);
    const passage = (position: number) => -drift!(position).columns[0][0];
    // frames 19 and 23 are neighbours now
    expect(passage(9)).toBeCloseTo(19, 9);
    expect(passage(11)).toBeCloseTo(19.5, 9);
    expect(passage(13)).toBeCloseTo(20, 9);
  });

  it("mirrors where the front runs the other way", () => {
    const there = slopingWindow(motion, POSITIONS, frames(80), 3);
    const back = slopingWindow(
      { ...motion, sense: -1, slopePixelsPerFrame: -1, interceptPixels: POSITIONS - 1 + 10 },
      POSITIONS,
      frames(80),
      3,
    );
    expect(Array.from(back.first).reverse()).toEqual(Array.from(there.first));
    expect(Array.from(back.end).reverse()).toEqual(Array.from(there.end));
  });
});
