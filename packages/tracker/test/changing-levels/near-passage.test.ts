import { describe, expect, it } from "vitest";
import { nearPassage } from "../../src/changing-levels/near-passage.js";
import { frames } from "../support/track.js";

const POSITIONS = 40;
const motion = {
  shape: "step",
  sense: 1,
  interceptPixels: -800,
  slopePixelsPerFrame: 2,
  blurPixels: 1,
  exposureFraction: 0,
  tiltSpreadPixels: 0,
} as const;
const fieldOf = (count: number) => ({
  data: new Float64Array(count * POSITIONS),
  frames: count,
  positions: POSITIONS,
});

describe("the frames about a passage", () => {
  it("are those within two runs over the path, and thirty, at each position of a long take", () => {
    const { window } = nearPassage(fieldOf(2000), { motion, numbers: frames(2000) });
    // The front passes position p in frame 400 + p / 2; two runs of 20 frames and 30 are 70.
    expect([window?.first[0], window?.end[0]]).toEqual([330, 470]);
    expect([window?.first[20], window?.end[20]]).toEqual([340, 480]);
  });

  it("are those of its window that lie there", () => {
    const field = fieldOf(2000);
    const first = new Int32Array(POSITIONS).fill(350);
    const end = new Int32Array(POSITIONS).fill(1990);
    const { window } = nearPassage({ ...field, window: { first, end } }, { motion, numbers: frames(2000) });
    expect([window?.first[0], window?.end[0]]).toEqual([350, 470]);
  });

  it("are all of a take that is not much longer than that", () => {
    const field = fieldOf(130);
    expect(nearPassage(field, { motion, numbers: frames(130) })).toBe(field);
  });
});
