import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { seededUniform } from "../../../test/support/seeded-normal.js";
import { type EventSource, type FrameRegion, findEvents } from "../src/index.js";
import { withoutWritten } from "../src/without-written.js";
import { virtualTake } from "./support/virtual-take.js";

/** Row by row what the left and the right column of a frame of two columns show, in which every sample is the number of its row. */
function rowsShown(rows: number, written: readonly FrameRegion[]) {
  const samples = Uint8Array.from({ length: 2 * rows }, (_, i) => i >> 1);
  const shown = withoutWritten(ndarray(samples, [rows, 2]), written);
  expect([...samples]).toEqual(Array.from(samples, (_, i) => i >> 1));
  return [0, 1].map((column) => Array.from({ length: rows }, (_, row) => shown.get(row, column)));
}

describe("what is shown where something is written", () => {
  const plain = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];

  it("is what stands beside it, mirrored", () => {
    const upper = { row: 0, rows: 3, column: 0, columns: 1 };
    expect(rowsShown(10, [upper])).toEqual([[5, 4, 3, 3, 4, 5, 6, 7, 8, 9], plain]);
    const lower = { row: 7, rows: 3, column: 1, columns: 1 };
    expect(rowsShown(10, [lower])).toEqual([plain, [0, 1, 2, 3, 4, 5, 6, 6, 5, 4]]);
  });

  it("is mirrored again where less is left than is written on", () => {
    const upper = { row: 0, rows: 7, column: 0, columns: 2 };
    expect(rowsShown(10, [upper])[0]).toEqual([7, 7, 8, 9, 9, 8, 7, 7, 8, 9]);
    const lower = { row: 3, rows: 7, column: 0, columns: 2 };
    expect(rowsShown(10, [lower])[0]).toEqual([0, 1, 2, 2, 1, 0, 0, 1, 2, 2]);
  });

  it("is never what is written at the other edge", () => {
    const both = [
      { row: 0, rows: 4, column: 0, columns: 1 },
      { row: 7, rows: 3, column: 0, columns: 2 },
    ];
    expect(rowsShown(10, both)).toEqual([
      [6, 6, 5, 4, 4, 5, 6, 6, 5, 4],
      [0, 1, 2, 3, 4, 5, 6, 6, 5, 4],
    ]);
  });
});

describe("lines of code that change now and then in a low picture", () => {
  const event = { shape: "front", first: 700, duration: 60, contrast: 40 } as const;

  /** Lines of 4 px, dark and bright. */
  function lined(rows: number, tops: readonly number[]): EventSource {
    const plain = virtualTake({ frames: 1500, rows, columns: 192, events: [event] });
    const whole = { row: 0, column: 0, rows, columns: 192 };
    async function read(index: number, region = whole) {
      const frame = await plain.read(index);
      for (const top of tops) {
        const uniform = seededUniform(1 + top + 100 * Math.floor(index / 90));
        for (let column = 10; column < 40; column++) {
          const value = uniform() < 0.5 ? 20 : 220;
          for (let row = top; row < top + 4; row++) frame.set(row, column, value);
        }
      }
      return frame.hi(region.row + region.rows, region.column + region.columns).lo(region.row, region.column);
    }
    return {
      ...plain,
      read,
      async *frames({ start = 0, end = 1500 } = {}, region = whole) {
        for (let index = start; index < end; index++)
          yield { index, number: index, frame: await read(index, region) };
      },
    };
  }

  it.each([[[0]], [[8]]])(
    "from row %j of 12 are left out: nothing but the front is an event",
    async (tops) => {
      const { events, written } = await findEvents(lined(12, tops));
      expect(written).toHaveLength(1);
      expect(events).toMatchObject([{ firstFrame: 700, lastFrame: 759, kind: "stays" }]);
    },
  );

  it("are not said to be left out where nothing is left between two", async () => {
    expect((await findEvents(lined(16, [0, 12]))).written).toEqual([]);
  });
});
