import { readdir, readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { openFrames } from "../src/index.js";
import { handTiff } from "./support/handTiff.js";
import { scratchFolder } from "./support/scratchFolder.js";

const COLUMNS = 512;
const ROWS = 512;
/** Every row differs. */
const strip = Uint8Array.from({ length: ROWS * COLUMNS }, (_, at) => (at * 7 + (at >> 9)) & 255);
const still = { columns: COLUMNS, rows: ROWS, bits: 8, strip } as const;

async function bytesRead(): Promise<number> {
  return Number(/^rchar: (\d+)$/m.exec(await readFile("/proc/self/io", "utf8"))![1]);
}

async function openDescriptors(): Promise<number> {
  return (await readdir("/proc/self/fd")).length;
}

describe("an uncompressed TIFF still", () => {
  // Bytes read are counted in /proc, which Linux alone has.
  it.skipIf(process.platform !== "linux")("is read in the rows of the region alone", async () => {
    const count = 40;
    const folder = await scratchFolder(
      Object.fromEntries(Array.from({ length: count }, (_, k) => [`t${k}.tif`, handTiff(still)])),
    );
    const sequence = await openFrames(folder);
    const before = await bytesRead();
    for await (const { frame } of sequence.frames({}, { row: 500, column: 3, rows: 4, columns: 500 }))
      expect(frame.get(1, 2)).toBe(strip[501 * COLUMNS + 5]);
    // Four rows of each, and some hundred bytes to find them; whole stills would be 500 kB each.
    expect((await bytesRead()) - before).toBeLessThan(count * 5 * COLUMNS + 50_000);
    await sequence.close();
  });

  it.each(["none", "deflate", "lzw"] as const)(
    "in many strips gives the same samples with the compression %s",
    async (compression) => {
      const file = await sharp(strip, { raw: { width: COLUMNS, height: ROWS, channels: 1 } })
        .toColourspace("b-w")
        .tiff({ compression })
        .toBuffer();
      const sequence = await openFrames(await scratchFolder({ "t1.tif": file }));
      expect((await sequence.read(0)).data).toEqual(strip);
      const region = { row: 130, column: 60, rows: 3, columns: 5 };
      const part = await sequence.read(0, region);
      for (let r = 0; r < 3; r++)
        for (let c = 0; c < 5; c++) expect(part.get(r, c)).toBe(strip[(130 + r) * COLUMNS + 60 + c]);
      await sequence.close();
    },
  );
});

// Open files are counted in /proc, which Linux alone has.
describe.skipIf(process.platform !== "linux")("a folder of many stills", () => {
  it.each(["tif", "png"])("holds few of them open at a time (.%s)", async (ending) => {
    const count = 600;
    const png = await sharp(strip, { raw: { width: COLUMNS, height: ROWS, channels: 1 } })
      .toColourspace("b-w")
      .png()
      .toBuffer();
    const content = ending === "tif" ? handTiff(still) : png;
    const folder = await scratchFolder(
      Object.fromEntries(Array.from({ length: count }, (_, k) => [`t${k}.${ending}`, content])),
    );
    const before = await openDescriptors();
    const sequence = await openFrames(folder);
    let most = await openDescriptors();
    let seen = 0;
    for await (const _ of sequence.frames({}, { row: 0, column: 0, rows: 1, columns: 1 })) {
      seen++;
      if (seen % 7 === 0) most = Math.max(most, await openDescriptors());
    }
    expect(seen).toBe(count);
    expect(most - before).toBeLessThan(40);
    await sequence.close();
    expect(await openDescriptors()).toBeLessThan(before + 5);
  });
});
