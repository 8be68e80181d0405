import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { EffectiveRows } from "../../src/streak/effective-rows.js";

const ROWS = 24;
const POSITIONS = 200;
const FRAMES = 12;

type Picture = Float32Array;

function rowsOf(
  picture: (frame: number, noise: () => number) => Picture,
  rows = ROWS,
  seed = 5,
): number | null {
  const effective = new EffectiveRows(rows, POSITIONS);
  const noise = seededNormal(seed);
  for (let i = 0; i < FRAMES; i++) effective.addFrame(picture(i, noise));
  return effective.count();
}

const white = (noise: () => number, rows = ROWS) =>
  Float32Array.from({ length: rows * POSITIONS }, () => 500 + 4 * noise());

/** Mean of each pixel and so many below it. */
function averaged(picture: Picture, over: number): Picture {
  return picture.map((_, at) => {
    let sum = 0;
    for (let k = 0; k < over; k++) sum += picture[(at + k * POSITIONS) % picture.length] / over;
    return sum;
  });
}

describe("effective rows", () => {
  it("are all rows where the noise of every pixel is its own", () => {
    expect(rowsOf((_, noise) => white(noise))).toBeGreaterThan(0.9 * ROWS);
  });

  it("are the rows over the number that were averaged, closed form: the halves share the seams", () => {
    for (const over of [2, 3, 4]) {
      const rows = rowsOf((_, noise) => averaged(white(noise), over));
      // Variance of the mean of m neighbours of a running mean over k: (1 − (k² − 1)/(3 k m)) k/m of a single one's.
      const half = ROWS / 2;
      const expected = (2 * half) / (over - (over ** 2 - 1) / (3 * half));
      expect(rows).toBeGreaterThan(0.85 * expected);
      expect(rows).toBeLessThan(1.15 * expected);
    }
  });

  it("do not count flicker, nor what moves through a part of the picture", () => {
    const rows = rowsOf((i, noise) =>
      white(noise).map((value, at) => {
        const [r, p] = [Math.floor(at / POSITIONS), at % POSITIONS];
        return value * (1 + 0.1 * Math.sin(i)) + (p < 5 * i && r > p % ROWS ? 300 : 0);
      }),
    );
    expect(rows).toBeGreaterThan(0.85 * ROWS);
  });

  it("are not told by few rows, by one frame, or without noise", () => {
    expect(rowsOf((_, noise) => white(noise, 7), 7)).toBeNull();
    expect(rowsOf(() => new Float32Array(ROWS * POSITIONS).fill(3))).toBeNull();
    const one = new EffectiveRows(ROWS, POSITIONS);
    one.addFrame(white(seededNormal(1)));
    expect(one.count()).toBeNull();
  });
});
