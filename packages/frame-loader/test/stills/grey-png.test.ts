import sharp, { type PngOptions } from "sharp";
import { describe, expect, it } from "vitest";
import { openFrames } from "../../src/index.js";
import { unfilterRows } from "../../src/stills/png-rows.js";
import { handPng } from "../support/handPng.js";
import { scratchFolder } from "../support/scratchFolder.js";

const ROWS = 300;
const COLUMNS = 211;

/** Noise on a ramp, so that an adaptive writer uses every filter and the samples take many chunks. */
function samplesOf(bits: 8 | 16): Uint8Array | Uint16Array {
  let state = 77;
  const values = Array.from({ length: ROWS * COLUMNS }, (_, at) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    const row = Math.floor(at / COLUMNS);
    const noise = row < ROWS / 3 ? 0 : state / 2 ** 32;
    return Math.floor(
      (2 ** bits - 1) * (0.3 * (row / ROWS) + 0.4 * ((at % COLUMNS) / COLUMNS) + 0.3 * noise),
    );
  });
  return bits === 8 ? Uint8Array.from(values) : Uint16Array.from(values);
}

function written(bits: 8 | 16, options: PngOptions): Promise<Buffer> {
  return sharp(samplesOf(bits), { raw: { width: COLUMNS, height: ROWS, channels: 1 } })
    .toColourspace(bits === 8 ? "b-w" : "grey16")
    .png(options)
    .toBuffer();
}

/** Where the content of each chunk of samples begins, and its length. */
function sampleChunks(png: Buffer): { at: number; length: number }[] {
  const found: { at: number; length: number }[] = [];
  for (let at = 8; at < png.length; at += png.readUInt32BE(at) + 12)
    if (png.toString("latin1", at + 4, at + 8) === "IDAT")
      found.push({ at: at + 8, length: png.readUInt32BE(at) });
  return found;
}

async function opened(png: Uint8Array) {
  return openFrames(await scratchFolder({ "t1.png": png }));
}

describe("a grey PNG", () => {
  it.each([
    [8, {}],
    [8, { adaptiveFiltering: true }],
    [16, {}],
    [16, { adaptiveFiltering: true }],
    [8, { progressive: true }],
    [16, { compressionLevel: 0 }],
  ] as const)("of %i bits, written with %j, gives every sample of every region", async (bits, options) => {
    const samples = samplesOf(bits);
    const sequence = await opened(await written(bits, options));
    expect((await sequence.read(0)).data).toEqual(samples);
    for (const [row, rows] of [
      [0, 1],
      [113, 40],
      [ROWS - 1, 1],
    ]) {
      const part = await sequence.read(0, { row, column: 7, rows, columns: 90 });
      for (let r = 0; r < rows; r++)
        for (let c = 0; c < 90; c++) expect(part.get(r, c)).toBe(samples[(row + r) * COLUMNS + 7 + c]);
    }
    await sequence.close();
  });

  it("whose upper rows take nearly all of the file gives them, too", async () => {
    const [columns, rows] = [1000, 400];
    let state = 5;
    const samples = Uint8Array.from({ length: rows * columns }, (_, at) => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return at < (rows * columns) / 2 ? state >>> 24 : 90;
    });
    const png = await sharp(samples, { raw: { width: columns, height: rows, channels: 1 } })
      .toColourspace("b-w")
      .png()
      .toBuffer();
    expect(sampleChunks(png).length).toBeGreaterThan(2);
    const sequence = await opened(png);
    const part = await sequence.read(0, { row: 190, column: 0, rows: 11, columns });
    expect(part.data).toEqual(samples.subarray(190 * columns, 201 * columns));
    await sequence.close();
  });

  it("in which a chunk of samples does not have its checksum is damaged from there on", async () => {
    const png = await written(8, {});
    const chunks = sampleChunks(png);
    const last = chunks[chunks.length - 1];
    expect(chunks.length).toBeGreaterThan(3);
    png[last.at + last.length] ^= 1;
    const sequence = await opened(png);
    const above = await sequence.read(0, { row: 0, column: 0, rows: 20, columns: COLUMNS });
    expect(above.get(19, 5)).toBe(samplesOf(8)[19 * COLUMNS + 5]);
    await expect(sequence.read(0)).rejects.toMatchObject({ code: "corrupt-frame", file: "t1.png" });
    await sequence.close();
  });

  it("cut short among its samples gives the rows that are there, and an error for others", async () => {
    const png = await written(8, {});
    const samples = samplesOf(8);
    for (let tenths = 1; tenths < 10; tenths++) {
      const sequence = await opened(png.subarray(0, Math.floor((tenths * png.length) / 10)));
      await expect(sequence.read(0)).rejects.toMatchObject({ code: "corrupt-frame" });
      const one = await sequence.read(0, { row: 2, column: 0, rows: 1, columns: COLUMNS });
      expect(Array.from(one.data)).toEqual(Array.from(samples.subarray(2 * COLUMNS, 3 * COLUMNS)));
      await sequence.close();
    }
  });

  it("with a bit turned over in its samples is an error wherever the bit is", async () => {
    const png = await written(8, {});
    for (const { at, length } of sampleChunks(png)) {
      const damaged = Buffer.from(png);
      damaged[at + (length >> 1)] ^= 4;
      const sequence = await opened(damaged);
      await expect(sequence.read(0)).rejects.toMatchObject({ code: "corrupt-frame" });
      await sequence.close();
    }
  });

  it("with one transparent level has its samples, too", async () => {
    const picture = {
      columns: 4,
      rows: 1,
      bits: 8,
      colourType: 0,
      samples: Uint8Array.of(9, 3, 3, 7),
    } as const;
    const sequence = await opened(handPng({ ...picture, chunks: [["tRNS", Uint8Array.of(0, 3)]] }));
    expect(Array.from((await sequence.read(0)).data)).toEqual([9, 3, 3, 7]);
    await sequence.close();
  });
});

describe("unfilterRows", () => {
  // Two rows of three pixels of one byte; the values are worked out by hand from section 9.2 of the specification.
  it.each([
    ["none", 0, [10, 20, 30]],
    ["left", 1, [10, 30, 60]],
    ["above", 2, [11, 22, 33]],
    ["mean of left and above", 3, [10, 26, 44]],
    ["nearest of left, above and above left", 4, [11, 31, 61]],
  ])("adds %s", (_, filter, expected) => {
    const bytes = Uint8Array.of(0, 1, 2, 3, filter, 10, 20, 30);
    unfilterRows({ bytes, rowBytes: 3, pixelBytes: 1 }, 1, 2);
    expect(Array.from(bytes.subarray(5))).toEqual(expected);
  });

  it("refuses a filter that there is not", () => {
    const bytes = Uint8Array.of(5, 1, 2, 3);
    expect(() => unfilterRows({ bytes, rowBytes: 3, pixelBytes: 1 }, 0, 1)).toThrow("got 5");
  });
});
