import { createHash } from "node:crypto";
import { readFile, rm, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { openFrames } from "../src/index.js";
import { handPng } from "./support/handPng.js";
import { handTiff } from "./support/handTiff.js";
import { bytes16, ramp16 } from "./support/samples.js";
import { scratchFolder } from "./support/scratchFolder.js";

/** Stills of 4 x 3 pixels whose sample at (row, column) of still i is 100 i + 10 row + column. */
async function countingFolder(numbers: readonly number[]) {
  const content = (i: number) =>
    handPng({
      columns: 4,
      rows: 3,
      bits: 16,
      colourType: 0,
      samples: bytes16(
        Array.from({ length: 12 }, (_, k) => 100 * i + 10 * Math.floor(k / 4) + (k % 4)),
        true,
      ),
    });
  return scratchFolder(Object.fromEntries(numbers.map((number, i) => [`t${number}.png`, content(i)])));
}

describe("read", () => {
  it("gives shape [rows, columns] with rows outermost", async () => {
    const sequence = await openFrames(await countingFolder([5, 6]));
    const frame = await sequence.read(1);
    expect(frame.shape).toEqual([3, 4]);
    expect(frame.get(2, 1)).toBe(121);
  });

  it("gives the same samples in a region as in the whole picture", async () => {
    const sequence = await openFrames(await countingFolder([5, 6]));
    const part = await sequence.read(1, { row: 1, column: 2, rows: 2, columns: 2 });
    expect(part.shape).toEqual([2, 2]);
    expect([...part.data]).toEqual([112, 113, 122, 123]);
    const whole = await sequence.read(0, { row: 0, column: 0, rows: 3, columns: 4 });
    expect([...whole.data]).toEqual([...(await sequence.read(0)).data]);
  });

  it.each([
    [{ row: -1, column: 0, rows: 1, columns: 1 }, "region.row must be a whole number >= 0, got -1"],
    [{ row: 0, column: 0.5, rows: 1, columns: 1 }, "region.column must be a whole number >= 0, got 0.5"],
    [{ row: 0, column: 0, rows: 0, columns: 1 }, "region.rows must be a whole number >= 1, got 0"],
    [{ row: 2, column: 0, rows: 2, columns: 1 }, "got 2 + 2"],
    [{ row: 0, column: 0, rows: 3, columns: 5 }, "got 0 + 5"],
  ])("refuses the region %o", async (region, words) => {
    const sequence = await openFrames(await countingFolder([1]));
    await expect(sequence.read(0, region)).rejects.toThrow(RangeError);
    await expect(sequence.read(0, region)).rejects.toThrow(words);
    expect(() => sequence.frames({}, region)).toThrow(words);
  });

  it.each([-1, 2, 0.5, Number.NaN])("refuses the index %d", async (index) => {
    const sequence = await openFrames(await countingFolder([1, 2]));
    await expect(sequence.read(index)).rejects.toThrow(RangeError);
  });

  it("rejects with the abort reason", async () => {
    const sequence = await openFrames(await countingFolder([1]));
    const reason = new Error("called off");
    await expect(sequence.read(0, undefined, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);
    const controller = new AbortController();
    const reading = sequence.read(0, undefined, { signal: controller.signal });
    controller.abort(reason);
    await expect(reading).rejects.toBe(reason);
  });

  it("after close is an error, and so is everything else", async () => {
    const sequence = await openFrames(await countingFolder([1, 2]));
    await sequence.close();
    await sequence.close();
    await expect(sequence.read(0)).rejects.toMatchObject({ code: "closed" });
    await expect(sequence.hash()).rejects.toMatchObject({ code: "closed" });
    expect(() => sequence.frames()).toThrow(expect.objectContaining({ code: "closed" }));
  });

  it("notices a still that was rewritten or removed after opening", async () => {
    const folder = await countingFolder([1, 2]);
    const sequence = await openFrames(folder);
    const other = handPng({ columns: 4, rows: 3, bits: 8, colourType: 0, samples: new Uint8Array(12) });
    await writeFile(join(folder, "t1.png"), other);
    await rm(join(folder, "t2.png"));
    await expect(sequence.read(0)).rejects.toMatchObject({ code: "changed-frame", file: "t1.png" });
    await expect(sequence.hash()).rejects.toMatchObject({ code: "changed-frame", file: "t1.png" });
    await expect(sequence.read(1)).rejects.toMatchObject({ code: "unreadable-frame", file: "t2.png" });
  });
});

describe("a folder opened again after an export", () => {
  it.each([false, true])("gives the new samples, interlaced: %s", async (progressive) => {
    const flat = (value: number) =>
      sharp(new Uint8Array(64).fill(value), { raw: { width: 8, height: 8, channels: 1 } })
        .toColourspace("b-w")
        .png({ progressive })
        .toBuffer();
    const folder = await scratchFolder({ "t1.png": await flat(11) });
    expect((await (await openFrames(folder)).read(0)).get(0, 0)).toBe(11);
    await writeFile(join(folder, "t1.png"), await flat(22));
    expect((await (await openFrames(folder)).read(0)).get(0, 0)).toBe(22);
  });
});

describe("a still cut at 60 % is an error, never half a picture", () => {
  const noise = ramp16.map((value) => (value * 40_503) & 0xffff);
  const grey16 = sharp(noise, { raw: { width: 256, height: 256, channels: 1 } })
    .pipelineColourspace("grey16")
    .toColourspace("grey16");
  const grey8 = sharp(
    Uint8Array.from(noise, (value) => value >> 8),
    { raw: { width: 256, height: 256, channels: 1 } },
  );
  it.each([
    ["t1.png", "plain", grey16.clone().png()],
    ["t1.png", "interlaced", grey16.clone().png({ progressive: true })],
    ["t1.jpg", "plain", grey8.clone().toColourspace("b-w").jpeg()],
    ["t1.jpg", "progressive", grey8.clone().toColourspace("b-w").jpeg({ progressive: true })],
    ["t1.webp", "lossless", grey8.clone().webp({ lossless: true })],
    ["t1.webp", "lossy", grey8.clone().webp()],
    ["t1.tif", "compressed", grey16.clone().tiff({ compression: "lzw" })],
    [
      "t1.tif",
      "tiled",
      grey16.clone().tiff({ compression: "deflate", tile: true, tileWidth: 64, tileHeight: 64 }),
    ],
  ])("%s, %s", async (file, _kind, writer) => {
    await expectCut(file, await writer.toBuffer());
  });

  it("t1.tif with its directory in front", async () => {
    await expectCut("t1.tif", handTiff({ columns: 256, rows: 256, bits: 16, strip: bytes16(noise, false) }));
  });

  async function expectCut(file: string, content: Buffer) {
    const folder = await scratchFolder({ [file]: content });
    const whole = await openFrames(folder);
    expect((await whole.read(0)).shape).toEqual([256, 256]);
    await truncate(join(folder, file), Math.floor(content.length * 0.6));
    const reading = openFrames(folder).then((sequence) => sequence.read(0));
    await expect(reading).rejects.toMatchObject({
      code: "corrupt-frame",
      file,
      message: expect.stringMatching(/cut short.*export it again/),
    });
  }
});

describe("frames", () => {
  const numbers = Array.from({ length: 30 }, (_, i) => 2 * i + 1).concat(100);

  it("delivers every frame once, in order, with its number", async () => {
    const sequence = await openFrames(await countingFolder(numbers));
    const seen: [number, number, number][] = [];
    for await (const { index, number, frame } of sequence.frames())
      seen.push([index, number, frame.get(0, 0)]);
    expect(seen).toEqual(numbers.map((number, i) => [i, number, 100 * i]));
  });

  it("keeps to its range and region", async () => {
    const sequence = await openFrames(await countingFolder(numbers));
    const seen: number[][] = [];
    const region = { row: 2, column: 0, rows: 1, columns: 2 };
    for await (const { frame } of sequence.frames({ start: 3, end: 5 }, region)) seen.push([...frame.data]);
    expect(seen).toEqual([
      [320, 321],
      [420, 421],
    ]);
    for await (const { index } of sequence.frames({ start: 4, end: 4 })) seen.push([index]);
    expect(seen).toHaveLength(2);
  });

  it.each([{ start: -1 }, { start: 32 }, { end: 32 }, { start: 3, end: 2 }, { start: 0.5 }])(
    "refuses the range %o at the call",
    async (range) => {
      const sequence = await openFrames(await countingFolder(numbers));
      expect(() => sequence.frames(range)).toThrow(RangeError);
      await expect(sequence.hash(range)).rejects.toThrow(RangeError);
    },
  );

  it("delivers the frames before a damaged one, then fails naming it", async () => {
    const folder = await countingFolder(numbers);
    await truncate(join(folder, "t7.png"), 60);
    const sequence = await openFrames(folder);
    const seen: number[] = [];
    const loop = async () => {
      for await (const { number } of sequence.frames()) seen.push(number);
    };
    await expect(loop()).rejects.toMatchObject({ code: "corrupt-frame", file: "t7.png" });
    expect(seen).toEqual([1, 3, 5]);
  });

  it("stops with the abort reason in the middle of a loop", async () => {
    const sequence = await openFrames(await countingFolder(numbers));
    const controller = new AbortController();
    const reason = new Error("called off");
    let count = 0;
    const loop = async () => {
      for await (const _ of sequence.frames({}, undefined, { signal: controller.signal })) {
        count += 1;
        if (count === 2) controller.abort(reason);
      }
    };
    await expect(loop()).rejects.toBe(reason);
    expect(count).toBe(2);
  });

  it("can be left early, and the sequence read on", async () => {
    const sequence = await openFrames(await countingFolder(numbers));
    for await (const { index } of sequence.frames()) if (index === 1) break;
    expect((await sequence.read(9)).get(0, 0)).toBe(900);
  });

  it("fails once the sequence is closed", async () => {
    const sequence = await openFrames(await countingFolder(numbers));
    const loop = async () => {
      for await (const { index } of sequence.frames()) if (index === 0) await sequence.close();
    };
    await expect(loop()).rejects.toMatchObject({ code: "closed" });
  });
});

describe("hash", () => {
  it("is SHA-256 over number and bytes of every file in order", async () => {
    const folder = await countingFolder([-2, 7, 300]);
    const sequence = await openFrames(folder);
    const digest = async (numbers: readonly number[]) => {
      const hash = createHash("sha256");
      for (const number of numbers) {
        const head = new DataView(new ArrayBuffer(8));
        head.setBigInt64(0, BigInt(number));
        hash.update(new Uint8Array(head.buffer)).update(await readFile(join(folder, `t${number}.png`)));
      }
      return hash.digest("hex");
    };
    expect(await sequence.hash()).toBe(await digest([-2, 7, 300]));
    expect(await sequence.hash({ start: 1 })).toBe(await digest([7, 300]));
  });

  it("changes with a number, and not with the rest of the name", async () => {
    const content = handPng({ columns: 1, rows: 1, bits: 8, colourType: 0, samples: Uint8Array.of(1) });
    const hashOf = async (...names: string[]) =>
      (
        await openFrames(await scratchFolder(Object.fromEntries(names.map((name) => [name, content]))))
      ).hash();
    const first = await hashOf("a1.png", "a2.png");
    expect(await hashOf("b_001.png", "b_002.png")).toBe(first);
    expect(await hashOf("a1.png", "a3.png")).not.toBe(first);
  });

  it("rejects with the abort reason", async () => {
    const sequence = await openFrames(await countingFolder([1, 2]));
    const reason = new Error("called off");
    await expect(sequence.hash({}, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);
    const controller = new AbortController();
    const hashing = sequence.hash({}, { signal: controller.signal });
    controller.abort(reason);
    await expect(hashing).rejects.toBe(reason);
  });
});
