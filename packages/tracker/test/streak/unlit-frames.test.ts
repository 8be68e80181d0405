import { describe, expect, it } from "vitest";
import { unlitFrames } from "../../src/streak/unlit-frames.js";

const FRAMES = 16;
const POSITIONS = 60;

const surface = (position: number) => 100 + 30 * Math.sin(position / 3);
const passing = (frame: number, position: number) => surface(position) + (position < 4 * frame ? 50 : 0);

const unlitIn = (level: (frame: number, position: number) => number) =>
  unlitFrames({
    data: Float64Array.from({ length: FRAMES * POSITIONS }, (_, at) =>
      level(Math.floor(at / POSITIONS), at % POSITIONS),
    ),
    shape: [FRAMES, POSITIONS],
  });

const framesWhere = (isSo: (frame: number) => boolean) => Array.from(Array(FRAMES).keys()).filter(isSo);

describe("frames that a pulsed light leaves dark", () => {
  it("are every second, every third, and two of three, while a front runs", () => {
    const patterns = [(i: number) => i % 2 === 0, (i: number) => i % 3 === 1, (i: number) => i % 3 !== 1];
    for (const isDark of patterns)
      expect(unlitIn((i, p) => (isDark(i) ? 0.05 : 1) * passing(i, p))).toEqual(framesWhere(isDark));
  });

  it("may have a dark level of their own", () => {
    expect(unlitIn((i, p) => 16 + (i % 2) * passing(i, p))).toEqual(framesWhere((i) => i % 2 === 0));
  });

  it("are none where a few are lost, the light is weaker, or goes out for good", () => {
    expect(unlitIn((i, p) => (i === 7 ? 0 : passing(i, p)))).toEqual([]);
    expect(unlitIn((i, p) => (i % 2 ? 0.5 : 1) * passing(i, p))).toEqual([]);
    expect(unlitIn((i, p) => (i < 8 ? 1 : 0) * passing(i, p))).toEqual([]);
  });

  it("are none that a wide dark band, a bright line in the dark, or the flash before a front make", () => {
    expect(unlitIn((i, p) => (p < 12 * (i - 1) && p > 12 * (i - 8) ? 5 : surface(p)))).toEqual([]);
    expect(unlitIn((i, p) => (Math.abs(p - 4 * i) < 3 ? 200 : 1))).toEqual([]);
    expect(unlitIn((i, p) => (i === 2 || p < 8 * (i - 6) ? 150 : 2))).toEqual([]);
  });
});
