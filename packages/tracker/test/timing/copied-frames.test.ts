import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { copiedFrames } from "../../src/timing/copied-frames.js";
import { differencesInTime } from "../../src/timing/differences-in-time.js";
import { picturesOf, streakOf, withPictures } from "../support/frame-list.js";
import { type InventedTake, render } from "../support/render.js";
import { frames } from "../support/track.js";

const TAKE: InventedTake = {
  numbers: frames(40),
  rows: 12,
  columns: 110,
  frontAt: (time) => 10 + 2.1 * time,
  dirt: (row, column) => 1 + 0.2 * Math.sin(0.7 * row + 1.9 * column),
  noise: 2,
  bitDepth: 8,
  seed: 8,
};
const copiesIn = async (change: Partial<InventedTake>, copied: readonly number[] = [], copyNoise = 0) => {
  const source = render({ ...TAKE, ...change });
  const normal = seededNormal(9);
  const pictures = await picturesOf(source);
  const stored = pictures.map((picture, i) =>
    copied.includes(i) ? pictures[i - 1].map((value) => value + copyNoise * normal()) : picture,
  );
  const streak = await streakOf(withPictures(source, stored));
  return copiedFrames(streak, differencesInTime(streak).first);
};

describe("copiedFrames", () => {
  it("names frames that are copies, exact ones and those compressed to a small part of the noise", async () => {
    expect(await copiesIn({}, [7, 20])).toEqual([7, 20]);
    expect(await copiesIn({}, [7, 20], 0.15)).toEqual([7, 20]);
  });

  it("names none in takes that are noisy, still, flickering or nearly free of noise", async () => {
    expect(await copiesIn({})).toEqual([]);
    expect(await copiesIn({ frontAt: () => -50 })).toEqual([]);
    expect(await copiesIn({ light: (number) => 1 + 0.15 * (number % 2) })).toEqual([]);
    expect(await copiesIn({ noise: 0.2 })).toEqual([]);
  });

  it("names copies in a take whose noise is below a step of its numbers", async () => {
    expect(await copiesIn({ noise: 0.2 }, [7, 20])).toEqual([7, 20]);
  });

  it("decides nothing where frames have no noise, moving or still", async () => {
    expect(await copiesIn({ noise: 0, bitDepth: 32 })).toBeNull();
    expect(await copiesIn({ noise: 0, frontAt: (time) => 10 + 5 * Math.floor(time / 3) })).toBeNull();
    expect(await copiesIn({ noise: 0, frontAt: () => -50 })).toBeNull();
  });

  it("does not take a black screen before the lamp for copies, short or long", async () => {
    for (const dark of [4, 12])
      expect(await copiesIn({ light: (number) => (number < dark ? 0 : 1), before: 100, noise: 0.4 })).toEqual(
        [],
      );
  });
});
