import { describe, expect, it } from "vitest";
import { withoutFrames } from "../../src/streak/without-frames.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const numbers = frames(9);
const source = sourceOf({ numbers, rows: 2, columns: 3 }, (_row, _column, number) => number);

async function read(range?: { start?: number; end?: number }) {
  const found = [];
  const without = withoutFrames(source, [numbers[0], numbers[3], numbers[4], numbers[8]]);
  for await (const { index, number, frame } of without.frames(range))
    found.push([index, number, frame.get(0, 0)]);
  return found;
}

describe("a sequence without some of its frames", () => {
  const kept = [1, 2, 5, 6, 7].map((k) => numbers[k]);

  it("has the others, counted anew", async () => {
    expect(await read()).toEqual(kept.map((number, index) => [index, number, number]));
  });

  it("gives a part of them", async () => {
    expect(await read({ start: 1, end: 3 })).toEqual([
      [1, kept[1], kept[1]],
      [2, kept[2], kept[2]],
    ]);
    expect(await read({ start: 2, end: 2 })).toEqual([]);
  });
});
