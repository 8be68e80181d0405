import { describe, expect, it } from "vitest";
import type { TrackOptions } from "../src/index.js";
import { type InventedTake, render } from "./support/render.js";
import { expectRelative, frames, track } from "./support/track.js";

/** Invented: 2.1 px a frame from column 10. */
const TAKE: InventedTake = {
  numbers: frames(40),
  rows: 6,
  columns: 110,
  frontAt: (time) => 10 + 2.1 * time,
  noise: 0,
};
const run = (change: Partial<InventedTake> = {}, options?: TrackOptions) =>
  track(render({ ...TAKE, ...change }), options);

/** Both readings are fitted, each to about 1e-6. */
const SAME = 1e-5;

describe("what must not matter does not, what must does", () => {
  it("a front shifted by 3.7 px gives positions shifted by 3.7 px", async () => {
    const [plain, shifted] = [await run(), await run({ frontAt: (time) => 13.7 + 2.1 * time })];
    expect(shifted.line.interceptPixels - plain.line.interceptPixels).toBeGreaterThan(3.7 - 1e-3);
    expect(shifted.line.interceptPixels - plain.line.interceptPixels).toBeLessThan(3.7 + 1e-3);
    expectRelative(shifted.line.slopePixelsPerFrame, plain.line.slopePixelsPerFrame, SAME);
  });

  it("a mirrored picture flips the sign of the slope and keeps its size", async () => {
    const mirrored = await run({ heading: [-1, 0], frontAt: (time) => -109 + 10 + 2.1 * time });
    expectRelative(mirrored.line.slopePixelsPerFrame, -2.1, SAME);
    expect(mirrored.direction).toEqual([-1, 0]);
  });

  it("a picture turned from rows to columns gives the same slope, down the picture", async () => {
    const turned = await run({ rows: 110, columns: 6, heading: [0, 1] });
    expectRelative(turned.line.slopePixelsPerFrame, 2.1, SAME);
    expect(turned.direction).toEqual([0, 1]);
  });

  it("inverted brightness flips the polarity and nothing else", async () => {
    const [bright, dark] = [await run(), await run({ before: 180, step: -80 })];
    expect([bright.polarity, dark.polarity]).toEqual(["bright", "dark"]);
    expectRelative(dark.line.slopePixelsPerFrame, bright.line.slopePixelsPerFrame, SAME);
    expectRelative(dark.line.interceptPixels, bright.line.interceptPixels, SAME);
  });

  it("twice the speed gives twice the slope", async () => {
    const fast = await run({ columns: 190, frontAt: (time) => 10 + 4.2 * time });
    expectRelative(fast.line.slopePixelsPerFrame, 4.2, SAME);
  });

  it.each([1000, 1_000_000, -20])(
    "frame numbers that start at %i change the intercept by the way run and nothing else",
    async (first) => {
      const moved = await run({
        numbers: frames(40, first),
        frontAt: (time) => 10 + 2.1 * (time - first),
      });
      expectRelative(moved.line.slopePixelsPerFrame, 2.1, SAME);
      expectRelative(moved.line.interceptPixels, 10 - 2.1 * first, SAME);
      expect(moved.firstFrame).toBe(first + (await run()).firstFrame);
    },
  );

  it("missing frames are gaps in time, not shifts", async () => {
    const numbers = frames(40).filter((number) => ![7, 8, 20, 29].includes(number));
    const { line, positions } = await run({ numbers });
    expectRelative(line.slopePixelsPerFrame, 2.1, SAME);
    expect(positions.map(({ frame }) => frame)).not.toContain(8);
    expect(positions.map(({ frame }) => frame)).toContain(9);
  });

  it("a range of frame numbers, both ends included, gives the same line", async () => {
    const { line, positions } = await run({}, { firstFrame: 5, lastFrame: 30 });
    expectRelative(line.slopePixelsPerFrame, 2.1, SAME);
    expect(positions[0].frame).toBeGreaterThanOrEqual(5);
    expect(positions[positions.length - 1].frame).toBeLessThanOrEqual(30);
  });

  it("a path from b to a flips the sign of the slope and keeps the direction in the picture", async () => {
    const there = await run(
      {},
      {
        path: [
          [0, 3],
          [109, 3],
        ],
      },
    );
    const back = await run(
      {},
      {
        path: [
          [109, 3],
          [0, 3],
        ],
      },
    );
    expectRelative(back.line.slopePixelsPerFrame, -there.line.slopePixelsPerFrame, SAME);
    expectRelative(back.line.interceptPixels, 109 - there.line.interceptPixels, SAME);
    expect(back.direction).toEqual(there.direction);
  });
});
