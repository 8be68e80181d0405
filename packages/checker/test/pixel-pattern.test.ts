import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { pixelPattern } from "../src/index.js";

const [ROWS, COLUMNS] = [120, 240];

const scene = (x: number, y: number) =>
  90 + 0.4 * x + 30 * Math.sin(0.21 * x + 0.1 * y) + (x > 70 ? 40 : 0) + (y > 37 ? 25 : 0);
const pictureOf = (value: (x: number, y: number) => number) =>
  Float64Array.from({ length: ROWS * COLUMNS }, (_, at) =>
    Math.round(value(at % COLUMNS, Math.floor(at / COLUMNS))),
  );
const change = (one: Float64Array, other: Float64Array) => one.map((value, at) => other[at] - value);
const judged = (one: Float64Array, other: Float64Array) =>
  pixelPattern(one, change(one, other), ROWS, COLUMNS);

/** The mean of every block of 8 by 8 px in place of a part of each of its samples, as coarse quantisation leaves it. */
function compressed(picture: Float64Array, part: number): Float64Array {
  const sums = new Map<string, number>();
  const keyOf = (at: number) => `${(at % COLUMNS) >> 3},${Math.floor(at / COLUMNS) >> 3}`;
  picture.forEach((value, at) => void sums.set(keyOf(at), (sums.get(keyOf(at)) ?? 0) + value / 64));
  return picture.map((value, at) => (1 - part) * value + part * sums.get(keyOf(at))!);
}

describe("pixelPattern", () => {
  const noisy = (seed: number, noise = 3, at = scene) => {
    const normal = seededNormal(seed);
    return pictureOf((x, y) => at(x, y) + noise * normal());
  };

  it("finds none in noise over texture and edges, in 40 pairs of frames and in their stills", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const one = noisy(seed);
      expect(judged(one, noisy(100 + seed))).toEqual({ blocks: null, mosaic: false });
      expect(pixelPattern(one, null, ROWS, COLUMNS)).toEqual({ blocks: null, mosaic: false });
    }
  });

  it("takes a column that something ran over between two frames for no mosaic", () => {
    const ran = noisy(2).map((value, at) => value + (at % COLUMNS === 31 ? 60 : 0));
    expect(judged(noisy(1), ran).mosaic).toBe(false);
  });

  it("finds the blocks of a compression in the noise", () => {
    const { blocks, mosaic } = judged(compressed(noisy(1), 0.8), compressed(noisy(2), 0.8));
    expect(blocks).toBeGreaterThan(0.1);
    expect(mosaic).toBe(false);
  });

  it("finds a colour mosaic in the levels, and where colours were interpolated in the noise", () => {
    const mosaic = (x: number, y: number) =>
      scene(x, y) * (y % 2 === 0 ? (x % 2 === 0 ? 0.6 : 1) : x % 2 === 0 ? 1 : 0.8);
    expect(pixelPattern(noisy(1, 3, mosaic), null, ROWS, COLUMNS).mosaic).toBe(true);
    const interpolated = (picture: Float64Array) =>
      picture.map((value, at) => {
        const [x, y] = [at % COLUMNS, Math.floor(at / COLUMNS)];
        if ((x + y) % 2 === 0 || x === 0 || y === 0 || x === COLUMNS - 1 || y === ROWS - 1) return value;
        return (picture[at - 1] + picture[at + 1] + picture[at - COLUMNS] + picture[at + COLUMNS]) / 4;
      });
    expect(judged(interpolated(noisy(1)), interpolated(noisy(2))).mosaic).toBe(true);
  });

  it("says nothing of a picture too small, or without noise", () => {
    expect(pixelPattern(new Float64Array(400), null, 20, 20)).toEqual({ blocks: null, mosaic: false });
    expect(
      pixelPattern(
        pictureOf(() => 80),
        null,
        ROWS,
        COLUMNS,
      ),
    ).toEqual({ blocks: null, mosaic: false });
  });
});
