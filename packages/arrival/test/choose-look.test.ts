import { describe, expect, it } from "vitest";
import { chooseLook } from "../src/choose-look.js";
import type { FirstPass } from "../src/first-pass.js";

const cells = 100;
const greatest = (sizeOf: (i: number) => number) => ({
  size: Float64Array.from({ length: cells }, (_, i) => sizeOf(i)),
  index: new Float64Array(cells).fill(12),
});

describe("chooseLook", () => {
  it("tells that a ring passes, though a flash in some of the cells is the larger change and stays", () => {
    const ring = {
      cells,
      framesPerBin: 1,
      window: { level: 4, gap: 5 },
      stays: { bright: greatest((i) => (i < 8 ? 250 : 20)), dark: greatest(() => 1) },
      passes: { bright: greatest(() => 30), dark: greatest(() => 1) },
    };
    const grid = { cell: 1, rows: 10, columns: 10 };
    const pass = { looks: [[{ grid, ring }]], light: [{ noise: 1, flickers: false }] };
    const { kind, polarity } = chooseLook(pass as unknown as FirstPass);
    expect([kind, polarity]).toEqual(["passes", "bright"]);
  });
});
