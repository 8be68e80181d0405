import { join } from "node:path";
import { expect, it } from "vitest";
import { readStill } from "../../src/index.js";
import { handPng } from "../support/handPng.js";
import { scratchFolder } from "../support/scratchFolder.js";

it("readStill gives the stored samples of a 16-bit ramp", async () => {
  const samples = Uint16Array.from({ length: 12 }, (_, k) => 5000 * k);
  const big = new Uint8Array(24);
  samples.forEach((value, k) => {
    new DataView(big.buffer).setUint16(2 * k, value);
  });
  const folder = await scratchFolder({
    "grid.png": handPng({ columns: 4, rows: 3, bits: 16, colourType: 0, samples: big }),
  });
  const { name, frame, bitDepth } = await readStill(join(folder, "grid.png"));
  expect({ name, bitDepth, shape: frame.shape }).toEqual({ name: "grid.png", bitDepth: 16, shape: [3, 4] });
  expect([...frame.data]).toEqual([...samples]);
});

it("readStill names a file that is no picture, and one that is not there", async () => {
  const folder = await scratchFolder({ "grid.png": new TextEncoder().encode("no pixels") });
  await expect(readStill(join(folder, "grid.png"))).rejects.toMatchObject({
    code: "corrupt-frame",
    file: "grid.png",
  });
  await expect(readStill(join(folder, "none.png"))).rejects.toMatchObject({ code: "unreadable-frame" });
});
