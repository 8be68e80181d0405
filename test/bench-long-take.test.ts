import { mkdtemp, readFile, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { writeLongRaw } from "../scripts/bench/take/write-long-raw.js";

const folder = await mkdtemp(join(tmpdir(), "bench-test-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("the long take of the benchmarks", () => {
  const size = { frames: 5000, rows: 8, columns: 512, event: 5 };
  const ofFrame = size.rows * size.columns;

  /** Whether light falls on columns 51, 153, 256, 358 and 460, by frame. */
  async function written(from: number, leaves: "light" | "darkness" | "nothing") {
    const file = await writeLongRaw(join(folder, `${leaves}.raw`), { ...size, from, leaves });
    const { size: length, blocks } = await stat(file);
    expect(length).toBe(5000 * ofFrame);
    expect(512 * blocks).toBeLessThan(length / 100);
    const bytes = await readFile(file);
    return (frame: number) =>
      [51, 153, 256, 358, 460].map((column) => bytes[frame * ofFrame + 3 * size.columns + column] > 0);
  }

  const dark = [false, false, false, false, false];
  const lit = [true, true, true, true, true];

  it("is dark, then lit from one side to the other where light stays, and dark frames take no room", async () => {
    const at = await written(4992, "light");
    expect([0, 2500, 4991].map(at)).toEqual([dark, dark, dark]);
    expect(at(4992)).toEqual([true, false, false, false, false]);
    expect(at(4994)).toEqual([true, true, true, false, false]);
    expect([4996, 4999].map(at)).toEqual([lit, lit]);
  });

  it("is lit, then dark from one side to the other where darkness stays", async () => {
    const at = await written(3, "darkness");
    expect([0, 2].map(at)).toEqual([lit, lit]);
    expect(at(3)).toEqual([false, true, true, true, true]);
    expect(at(5)).toEqual([false, false, false, true, true]);
    expect([7, 2500, 4999].map(at)).toEqual([dark, dark, dark]);
  });

  it("is dark but for light that crosses it where nothing stays", async () => {
    const at = await written(2700, "nothing");
    expect([0, 2699, 2705, 4999].map(at)).toEqual([dark, dark, dark, dark]);
    expect(at(2700)).toEqual([true, false, false, false, false]);
    expect(at(2702)).toEqual([false, false, true, false, false]);
    expect(at(2704)).toEqual([false, false, false, false, true]);
  });
});
