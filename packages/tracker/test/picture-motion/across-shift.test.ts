import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { acrossShift } from "../../src/picture-motion/across-shift.js";
import { registerStriped } from "../../src/picture-motion/register-striped.js";
import { splineLine } from "../../src/picture-motion/spline-line.js";
import { readStreaks } from "../../src/streak/read-streak.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const positions = 60;
const rows = 12;

/** Invented: a mottle with no part shorter than 6 px in either direction. */
const mottle = (x: number, y: number) =>
  100 + 5 * Math.sin(x / 1.3 + y / 2.1) + 5 * Math.sin(x / 2.3 - y / 1.4 + 1) + 4 * Math.sin(y / 1.2 + x / 5);
const path = [
  [0, (rows - 1) / 2],
  [positions - 1, (rows - 1) / 2],
] as const;
const line = (y: number, [along, across] = [0, 0]) =>
  Float64Array.from({ length: positions }, (_, x) => mottle(x - along, y - across));

describe("registerStriped", () => {
  const known = { lines: frames(12).map((y) => splineLine(line(y))), firstStrip: 0 };

  it.each([
    [0, 0],
    [0.4, -0.7],
    [-1.3, 2.2],
  ])("finds shifts of %f px along and %f across to 0.03 px", (along, across) => {
    const seen = registerStriped(
      known,
      frames(12).map((y) => line(y, [along, across])),
      [0, positions],
      [0, 0],
      { search: true },
    );
    const [x, y] = seen?.shift ?? [Number.NaN, Number.NaN];
    expect(Math.abs(x - along)).toBeLessThan(0.03);
    expect(Math.abs(y - across)).toBeLessThan(0.03);
  });
});

describe("acrossShift", () => {
  const shake = (i: number) => [Math.sin(i / 2), 1.5 * Math.sin(i / 3)] as const;
  const take = (seed: number, shiftIn: (frame: number) => readonly [number, number], contrast = 1) => {
    const normal = seededNormal(seed);
    return sourceOf({ numbers: frames(24), rows, columns: positions }, (row, column, number) => {
      const [along, across] = shiftIn(number);
      return 100 + contrast * (mottle(column - along, row - across) - 100) + 2 * normal();
    });
  };
  const samples = {
    ahead: frames(24).map((i) => [i, positions] as const),
    behind: frames(24).map(() => [0, 0] as const),
  };
  const strips = async (...of: Parameters<typeof take>) =>
    (await readStreaks(take(...of), [{ path: [[...path[0]], [...path[1]]], width: rows }], 0, 24))[0];

  it("follows a picture that shakes across the path to 0.1 px in every frame", async () => {
    const seen = acrossShift(await strips(1, shake), samples);
    if (!seen) throw new Error("expected a picture that moves");
    const off = Array.from(seen.shiftPixels, (shift, i) => shift - shake(i)[1]).sort((a, b) => a - b);
    expect(off[off.length - 1] - off[0]).toBeLessThan(0.2);
  });

  it("sees none in a picture at rest, in one that moves along the path only, nor in noise, 5 seeds", async () => {
    for (let seed = 1; seed <= 5; seed++) {
      expect(acrossShift(await strips(seed, () => [0, 0]), samples)).toBeNull();
      expect(acrossShift(await strips(seed, (i) => [shake(i)[0], 0]), samples)).toBeNull();
      expect(acrossShift(await strips(seed, shake, 0), samples)).toBeNull();
    }
  });
});

describe("readStreaks", () => {
  it("reads a band where the picture lies in each frame, and only what is inside it in all of them", async () => {
    // Brightness is the row on the pane: the average over the band is that of its middle in every frame.
    const across = Float64Array.from([0, 1.5, -2, 0.25]);
    const source = sourceOf({ numbers: frames(4), rows, columns: 8 }, (row, _, i) => row - across[i]);
    const band = { path: [[0, 5.5] as const, [7, 5.5] as const] as const, width: rows };
    const [streak] = await readStreaks(source, [band], 0, 4, { acrossPixels: across });
    // Rows 2 to 9 of the pane: between them 12 rows less the 3.5 px by which the picture moves.
    expect(streak.width).toBe(8);
    for (const value of streak.data) expect(Math.abs(value - 5.5)).toBeLessThan(1e-6);
  });
});
