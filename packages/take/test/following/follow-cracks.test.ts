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
});
