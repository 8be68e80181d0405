import type { CrackNetwork } from "@frontpace/cracks";
import { describe, expect, it } from "vitest";
import { followCracks } from "../../src/following/follow-cracks.js";

/** A chain of lines along a row, each from node to node, of lengths in px. */
function chain(lengths: readonly number[]): CrackNetwork {
  const starts = lengths.map((_, k) => lengths.slice(0, k).reduce((sum, length) => sum + length, 5));
  const total = 5 + lengths.reduce((sum, length) => sum + length, 0);
  return {
    nodes: [...starts, total].map((x) => [x, 20] as const),
    lines: lengths.map((length, k) => ({
      from: k,
      to: k + 1,
      length,
      points: Array.from({ length: length + 1 }, (_, x) => [starts[k] + x, 20] as const),
    })),
    width: 8,
    polarity: "dark",
    contrast: 20,
    last: new Float64Array(0),
  };
}

describe("followCracks", () => {
  it("leaves out pieces that are too short once the partings at their ends are off", async () => {
    const asked: number[] = [];
    const frames = { numbers: [0], rows: 40, columns: 120, bitDepth: 8, async *frames() {} };
    const track = async ({ columns }: { columns: number }) => {
      asked.push(columns);
      return { status: "not-found", reason: "no-change", message: "", warnings: [], streak: {} } as never;
    };
    // Ends that are free lose nothing, one that parts loses the width of the lines.
    expect(await followCracks(frames, chain([30, 24, 30]), track)).toHaveLength(2);
    expect(asked).toEqual([23, 23]);
    expect(await followCracks(frames, chain([15, 20, 15]), track)).toHaveLength(0);
  });

  const frames = { numbers: [0], rows: 40, columns: 120, bitDepth: 8, async *frames() {} };
  const fronts = (...stretches: [from: number, to: number][]) =>
    ({
      status: "not-found",
      reason: "several-fronts",
      message: "",
      warnings: [],
      streak: {},
      fronts: stretches.map(([fromPixels, toPixels]) => ({ fromPixels, toPixels })),
    }) as never;
  const ran = (slopePixelsPerFrame: number, firstFrame: number) =>
    ({
      status: "tracked",
      warnings: [],
      streak: {},
      track: { line: { slopePixelsPerFrame }, firstFrame },
    }) as never;

  it("follows cracks that run from one place to either side of it each by itself", async () => {
    const outcomes = [fronts([44, 99], [41, 1]), ran(-2, 4), ran(3, 3)];
    const followed = await followCracks(frames, chain([100]), async () => outcomes.shift() as never);
    // The line begins at column 5; the place from which they run, column 43 of the course, loses the width of the lines to either side.
    expect(followed.map(({ points }) => [points[0][0], points[points.length - 1][0]])).toEqual([
      [5 + 43 + 8, 105],
      [5, 5 + 43 - 8 - 1],
    ]);
    expect(followed.map(({ course }) => course[0][0])).toEqual([56, 39]);
    expect(followed.map(({ parent }) => parent)).toEqual([null, null]);
  });

  it("keeps the crack from whose end a branch goes on as its parent where its line was cut", async () => {
    // The first line holds two cracks that run apart, and the second goes on from the far end of the one to the right.
    const outcomes = [fronts([44, 80], [41, 1]), ran(-2, 4), ran(3, 3), ran(3, 30)];
    const followed = await followCracks(frames, chain([90, 40]), async () => outcomes.shift() as never);
    expect(followed.map(({ outcome }) => outcome.status)).toEqual(["tracked", "tracked", "tracked"]);
    expect(followed[2].parent).toBe(0);
  });

  it("cuts no line along which fronts run over each other", async () => {
    const followed = await followCracks(frames, chain([100]), async () => fronts([5, 90], [1, 70]));
    expect(followed.map(({ outcome }) => outcome.status)).toEqual(["not-found"]);
    expect(followed[0].points).toHaveLength(101);
  });
});
