import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { blendedFrames } from "../../src/timing/blended-frames.js";
import { differencesInTime } from "../../src/timing/differences-in-time.js";
import type { FrameSource } from "../../src/types.js";
import { converted, picturesOf, streakOf, withPictures } from "../support/frame-list.js";
import { type InventedTake, render } from "../support/render.js";
import { frames } from "../support/track.js";

const TAKE: InventedTake = {
  numbers: frames(60),
  rows: 12,
  columns: 110,
  frontAt: (time) => 10 + 1.6 * time,
  noise: 3,
  bitDepth: 8,
  seed: 12,
};

async function blendsOf(source: FrameSource) {
  const streak = await streakOf(source);
  return blendedFrames(streak, differencesInTime(streak));
}

describe("blendedFrames", () => {
  it.each([
    [4, 5],
    [5, 6],
    [1, 2],
    [2, 5],
    [6, 5],
    [5, 4],
  ] as const)("finds %i frames blended into %i", async (source, every) => {
    const original = render(TAKE);
    const clip = withPictures(original, converted(await picturesOf(original), [source, every], "blend"));
    expect(await blendsOf(clip)).toEqual({ source, every });
  });

  it("finds none in takes that are noisy, flickering, or whose noise is that of their brightness", async () => {
    expect(await blendsOf(render(TAKE))).toBeNull();
    const flickering = { ...TAKE, light: (number: number) => 1 + 0.15 * Math.sin(2.5 * number) };
    expect(await blendsOf(render(flickering))).toBeNull();
    const source = render({ ...TAKE, noise: 0 });
    const normal = seededNormal(13);
    const shot = (await picturesOf(source)).map((picture, i) =>
      picture.map((value) => value + Math.sqrt(value * (1 + 0.3 * (i % 2))) * 0.3 * normal()),
    );
    expect(await blendsOf(withPictures(source, shot))).toBeNull();
  });

  it("finds none where a table tells irregular times, and the same blends as without it", async () => {
    const normal = seededNormal(15);
    const times = TAKE.numbers.map((number) => number + 0.2 * Math.tanh(normal()));
    const timed = (source: FrameSource) => ({ ...source, timeFrames: (number: number) => times[number] });
    const original = render({ ...TAKE, frontAt: (number) => 10 + 1.6 * times[number] });
    expect(await blendsOf(timed(original))).toBeNull();
    const clip = withPictures(original, converted(await picturesOf(original), [4, 5], "blend"));
    expect(await blendsOf(timed(clip))).toEqual({ source: 4, every: 5 });
  });

  it("finds none where noise lasts from frame to frame, renewed at regular intervals by the compression", async () => {
    const source = render({ ...TAKE, noise: 0, bitDepth: 32 });
    const normal = seededNormal(14);
    const pictures = await picturesOf(source);
    const noise = new Float32Array(pictures[0].length);
    const compressed = pictures.map((picture, i) =>
      picture.map((value, at) => {
        noise[at] = i % 5 === 0 ? 3 * normal() : 0.8 * noise[at] + normal();
        return value + noise[at];
      }),
    );
    expect(await blendsOf(withPictures(source, compressed))).toBeNull();
  });

  it("finds none where frames are missing, of which too few follow each other to show a pattern", async () => {
    // Takes in which some pattern explains the three pairs that follow each other, as in one of eight.
    for (const seed of [12, 16, 25, 30]) {
      const streak = await streakOf(render({ ...TAKE, seed }));
      const closer = (number: number) => [5, 9, 14].filter((place) => number > place).length;
      const storedNumbers = streak.storedNumbers.map((number) => 3 * number - 2 * closer(number));
      expect(blendedFrames({ ...streak, storedNumbers }, differencesInTime(streak))).toBeNull();
    }
  });
});
