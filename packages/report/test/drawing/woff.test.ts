import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { expect, it } from "vitest";
import { sfntOf } from "../../src/drawing/woff.js";

const file = createRequire(import.meta.url).resolve(
  "@fontsource/dejavu-sans/files/dejavu-sans-latin-400-normal.woff",
);

/** @see OpenType 1.9, "Calculating checksums": the sum of a table's big-endian words, head without its own field */
function checksum(view: DataView, at: number, length: number, isHead: boolean): number {
  let sum = 0;
  for (let k = 0; k < 4 * Math.ceil(length / 4); k += 4)
    if (!(isHead && k === 8)) sum = (sum + view.getUint32(at + k)) >>> 0;
  return sum;
}

it("sfntOf gives every table of a WOFF whole: each has its checksum and begins at a multiple of four bytes", async () => {
  const view = new DataView(sfntOf(await readFile(file)));
  const count = view.getUint16(4);
  expect(count).toBeGreaterThan(8);
  for (let k = 0; k < count; k++) {
    const [tag, stated, at, length] = [0, 4, 8, 12].map((field) => view.getUint32(12 + 16 * k + field));
    expect(at % 4).toBe(0);
    expect(checksum(view, at, length, tag === 0x68656164)).toBe(stated);
  }
});
