import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { picturesOf, withPictures } from "../support/frame-list.js";
import { type InventedTake, render } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

const SPEED = 0.9;
const NOISE = 12;
const TAKE: InventedTake = {
  numbers: frames(60),
  rows: 24,
  columns: 90,
  frontAt: (time) => 12 + SPEED * time,
  blurPixels: 1.6,
};
const WHOLE = {
  path: [
    [0, 11.5],
    [89, 11.5],
  ],
  width: 24,
} as const;

/** The take with noise, and with what a pixel returns besides. */
async function withAdded(
  take: InventedTake,
  seed: number,
  added: (row: number, column: number, frame: number) => number,
) {
  const source = render(take);
  const normal = seededNormal(seed);
  const pictures = (await picturesOf(source)).map((picture, i) =>
    picture.map(
      (level, at) => level + added(Math.floor(at / take.columns), at % take.columns, i) + NOISE * normal(),
    ),
  );
  return withPictures(source, pictures);
}

/** Round spots, three times as bright as the front, that fly on behind it in the upper third of the picture. */
function fragments(row: number, column: number, frame: number): number {
  let sum = 0;
  for (let k = 0; k < 5; k++) {
    const age = frame - 6 - 9 * k;
    if (age < 0) continue;
    const along = column - (TAKE.frontAt(frame - age) - 7 + 0.4 * age);
    sum += 250 * Math.exp(-(along ** 2 + (row - 1 - 1.5 * k) ** 2) / (2 * 2.2 ** 2));
  }
  return sum;
}

describe("parts of the width in which something besides the front changes", () => {
  it.each([1, 2])("are left out and named, and the speed holds, seed %i", async (seed) => {
    const found = await track(await withAdded(TAKE, seed, fragments), WHOLE);
    expect(found.codes).toContain("band-narrowed");
    expectCovered(found, SPEED);
    // A pixel's noise is that of all parts: 80 DN over 12.
    expect(found.look?.stepToNoise).toBeGreaterThan(0.9 * (80 / NOISE));
    expect(found.look?.stepToNoise).toBeLessThan(1.1 * (80 / NOISE));
  });

  it("are none where the front alone changes, leans, or wanders", async () => {
    const leaning = { ...TAKE, heading: [Math.cos(0.06), Math.sin(0.06)] as const };
    const wandering = { ...TAKE, frontAt: (time: number) => TAKE.frontAt(time) + Math.sin(time / 5) };
    for (const take of [TAKE, leaning, wandering])
      expect((await track(await withAdded(take, 3, () => 0), WHOLE)).codes).not.toContain("band-narrowed");
  });

  it("are none where a change reaches over all of the width", async () => {
    const later = (_row: number, column: number, frame: number) =>
      Math.abs(column - 30) < 3 && frame > 40 ? 150 : 0;
    const { codes, line } = await track(await withAdded(TAKE, 4, later), WHOLE);
    expect(codes).not.toContain("band-narrowed");
    expect(Math.abs(line.slopePixelsPerFrame / SPEED - 1)).toBeLessThan(0.05);
  });

  it("are not looked for in fewer than 20 frames", async () => {
    const brief = { ...TAKE, numbers: frames(19), frontAt: (time: number) => 12 + 3 * time };
    const spots = (row: number, column: number, frame: number) =>
      frame > 10 && row < 6 && column < 20 ? 250 : 0;
    expect((await track(await withAdded(brief, 6, spots), WHOLE)).codes).not.toContain("band-narrowed");
  });

  it("are not those outside the picture", async () => {
    const found = await track(await withAdded(TAKE, 5, () => 0), { ...WHOLE, width: 30 });
    expect(found.codes).not.toContain("band-narrowed");
    expectCovered(found, SPEED);
  });
});
