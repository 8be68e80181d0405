import { utimes } from "node:fs/promises";
import { join } from "node:path";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { openFrames } from "../../src/index.js";
import type { FrameStore } from "../../src/sequence/frame-store.js";
import { keptFrames } from "../../src/sequence/kept-frames.js";
import { handPng } from "../support/handPng.js";
import { scratchFolder } from "../support/scratchFolder.js";

const [ROWS, COLUMNS] = [4, 6];
const FRAMES = 3;
const WHOLE = { row: 0, column: 0, rows: ROWS, columns: COLUMNS };
const PART = { row: 1, column: 2, rows: 2, columns: 3 };

/** A store that says of which frames it was asked for samples. */
function countingStore(isDecoded: boolean) {
  const loaded: number[] = [];
  const store: FrameStore = {
    name: "counted",
    kind: { rows: ROWS, columns: COLUMNS, bitDepth: 8, colour: false },
    numbers: [0, 1, 2],
    warnings: [],
    isDecoded,
    checkFrame: async () => {},
    async load(index, { row, column, rows, columns }) {
      loaded.push(index);
      const samples = Uint8Array.from({ length: rows * columns }, (_, k) => {
        const [r, c] = [row + Math.floor(k / columns), column + (k % columns)];
        return 100 * index + r * COLUMNS + c;
      });
      return ndarray(samples, [rows, columns]);
    },
    loadingBytes: ({ rows, columns }) => rows * columns,
    warningsWithin: () => [],
    hash: async () => "",
    async *stills() {},
    checkUnchanged: async () => {},
    close: async () => {},
  };
  return { store, loaded };
}

describe("keptFrames", () => {
  const enough = FRAMES * ROWS * COLUMNS;

  it("loads a picture that was loaded whole no second time, and gives parts of it as the store does", async () => {
    const { store, loaded } = countingStore(true);
    const kept = keptFrames(store, enough);
    const whole = await kept.load(1, WHOLE);
    expect(await kept.load(1, WHOLE)).toBe(whole);
    const part = await kept.load(1, PART);
    expect(loaded).toEqual([1]);
    const expected = await store.load(1, PART);
    expect([part.shape, part.data]).toEqual([expected.shape, expected.data]);
  });

  it("keeps no part of a picture", async () => {
    const { store, loaded } = countingStore(true);
    const kept = keptFrames(store, enough);
    await kept.load(0, PART);
    await kept.load(0, PART);
    expect(loaded).toEqual([0, 0]);
  });

  it.each([
    ["do not fit", true, enough - 1],
    ["need not be decoded", false, enough],
  ])("leaves a store as it is where its frames %s", (_, isDecoded, bytes) => {
    const { store } = countingStore(isDecoded);
    expect(keptFrames(store, bytes)).toBe(store);
  });

  it("notices a still that is written to after it was kept", async () => {
    const pixel = (value: number) =>
      handPng({ columns: 1, rows: 1, bits: 8, colourType: 0, samples: Uint8Array.of(value) });
    const folder = await scratchFolder({ "t1.png": pixel(1), "t2.png": pixel(2) });
    const sequence = await openFrames(folder, { keptBytes: 1000 });
    expect((await sequence.read(0)).data).toEqual(Uint8Array.of(1));
    await utimes(join(folder, "t1.png"), 1, 1);
    await expect(sequence.read(0)).rejects.toMatchObject({ code: "changed-frame" });
    await sequence.close();
  });
});
