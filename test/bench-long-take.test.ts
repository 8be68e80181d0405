import { mkdtemp, readFile, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { writeLongRaw } from "../scripts/bench/take/write-long-raw.js";

const folder = await mkdtemp(join(tmpdir(), "bench-test-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("the long take of the benchmarks", () => {
  it.each([
    ["stays", 8],
    ["passes", 5],
  ] as const)("where it %s, is as stated, and dark frames take no room", async (kind, lit) => {
    const take = { frames: 5000, rows: 8, columns: 512, from: 4992, event: 5, kind };
    const file = await writeLongRaw(join(folder, `${kind}.raw`), take);
    const { size, blocks } = await stat(file);
    expect(size).toBe(5000 * 8 * 512);
    expect(512 * blocks).toBeLessThan(size / 100);
    const bytes = await readFile(file);
    const isLit = (frame: number, column: number) => bytes[frame * 8 * 512 + 3 * 512 + column] > 0;
    const seen = Array.from({ length: 5000 }, (_, frame) => frame).filter((frame) =>
      [51, 153, 256, 358, 460].some((column) => isLit(frame, column)),
    );
    expect(seen).toEqual(Array.from({ length: lit }, (_, k) => 4992 + k));
    expect([isLit(4992, 51), isLit(4992, 153), isLit(4994, 256)]).toEqual([true, false, true]);
    expect(isLit(4996, 51)).toBe(kind === "stays");
  });
});
