import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { splitsInTime } from "../src/first-look/change-in-time.js";
import { leastStrength } from "../src/first-look/first-line.js";
import { expectRelative } from "./support/track.js";

const FRAMES = 60;
const least = leastStrength(FRAMES + 1);

/** Row-major, shape [frames, positions]. */
function field(positions: number, at: (frame: number, position: number) => number): Float64Array {
  return Float64Array.from({ length: FRAMES * positions }, (_, k) =>
    at(Math.floor(k / positions), k % positions),
  );
}

describe("splitsInTime", () => {
  it("gives the frames of two steps, and for each how far the levels on its two sides stand apart", () => {
    const data = field(1, (i) => (i < 20 ? 10 : i < 41 ? 16 : 13));
    const [[rise, fall]] = splitsInTime(data, [FRAMES, 1], 0.5, least);
    expect([rise.column, fall.column]).toEqual([20, 41]);
    // difference over noise times the root of n1·n2/(n1 + n2): 20 frames, 21 frames and 19
    expectRelative(rise.strength, (6 / 0.5) * Math.sqrt((20 * 21) / 41), 1e-12);
    expectRelative(fall.strength, (-3 / 0.5) * Math.sqrt((21 * 19) / 40), 1e-12);
  });

  it("finds exactly the frames of two steps of ten times the noise, at every one of 300 positions", () => {
    const normal = seededNormal(5);
    const data = field(300, (i) => (i < 20 ? 0 : i < 41 ? 10 : -4) + normal());
    const columns = splitsInTime(data, [FRAMES, 300], 1, least).map((of) => of.map(({ column }) => column));
    // A step of ten is put a frame aside by a sample five from its level, once in two million; a third split is one
    // in noise alone, which the next test counts.
    expect(columns.filter((of) => of.includes(20) && of.includes(41)).length).toBe(300);
    expect(columns.filter((of) => of.length !== 2).length).toBeLessThanOrEqual(1);
  });

  it("finds a split in noise alone at fewer than one in 400 positions", () => {
    const normal = seededNormal(6);
    const splits = splitsInTime(field(10_000, normal), [FRAMES, 10_000], 1, least);
    expect(splits.filter((of) => of.length > 0).length).toBeLessThan(10_000 / 400);
    // and by half of that strength at nearly all: the threshold is what keeps it out
    const lax = splitsInTime(field(500, normal), [FRAMES, 500], 1, least / 3);
    expect(lax.filter((of) => of.length > 0).length).toBeGreaterThan(400);
  });

  it("turns the splits and their signs round where time runs backwards", () => {
    const normal = seededNormal(7);
    const data = field(40, (i, p) => (i < 10 + p ? 0 : 9) - (i < 52 ? 0 : 6) + normal());
    const forwards = splitsInTime(data, [FRAMES, 40], 1, least);
    const backwards = splitsInTime(
      field(40, (i, p) => data[(FRAMES - 1 - i) * 40 + p]),
      [FRAMES, 40],
      1,
      least,
    );
    expect(forwards.flat().length).toBeGreaterThan(70);
    const turned = backwards.map((of) => of.map(({ column }) => FRAMES - column).reverse());
    expect(turned).toEqual(forwards.map((of) => of.map(({ column }) => column)));
    forwards.forEach((of, p) => {
      const strengths = backwards[p].map(({ strength }) => -strength).reverse();
      of.forEach(({ strength }, k) => {
        // sums in another order
        expect(Math.abs(strength - strengths[k])).toBeLessThan(1e-9);
      });
    });
  });

  it("finds none in one frame, nor where nothing changes", () => {
    expect(splitsInTime(new Float64Array([3, 4]), [1, 2], 1, least)).toEqual([[], []]);
    expect(splitsInTime(new Float64Array(FRAMES).fill(7), [FRAMES, 1], 1, least)).toEqual([[]]);
  });
});
