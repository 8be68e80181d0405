import { createHash } from "node:crypto";
import { appendFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { openContainer } from "../src/containers/open-container.js";
import { openFrames } from "../src/index.js";
import type { Region } from "../src/types.js";
import {
  type ContainerFixture,
  containerFixtures,
  fixture,
  fixturePath,
} from "./support/containerFixtures.js";
import { handTiff } from "./support/handTiff.js";
import { scratchFolder } from "./support/scratchFolder.js";

/** The whole picture, its corners, one row, one column, a part that crosses strips and tiles. */
function regionsOf({ rows, columns }: ContainerFixture): Region[] {
  return [
    { row: 0, column: 0, rows, columns },
    { row: 0, column: 0, rows: 2, columns: 3 },
    { row: 0, column: columns - 3, rows: 2, columns: 3 },
    { row: rows - 2, column: 0, rows: 2, columns: 3 },
    { row: rows - 2, column: columns - 3, rows: 2, columns: 3 },
    { row: rows - 1, column: 0, rows: 1, columns },
    { row: 4, column: 0, rows: 1, columns },
    { row: 0, column: 16, rows, columns: 1 },
    { row: 4, column: 15, rows: 7, columns: 2 },
    { row: 6, column: 7, rows: 1, columns: 1 },
  ];
}

function cut(
  { columns: width, colour }: ContainerFixture,
  frame: ArrayLike<number>,
  region: Region,
): number[] {
  const channels = colour ? 3 : 1;
  const result: number[] = [];
  for (let r = region.row; r < region.row + region.rows; r++)
    for (let k = region.column * channels; k < (region.column + region.columns) * channels; k++)
      result.push(frame[r * width * channels + k]);
  return result;
}

describe("samples come back as an independent decoder finds them", () => {
  it.each(containerFixtures.map((one) => [one.name, one] as const))("%s", async (_, one) => {
    const container = await openContainer(one.path, one.options.raw ?? null);
    expect(container).toMatchObject({ count: one.frames.length, warnings: [] });
    expect(container.kind).toMatchObject({
      rows: one.rows,
      columns: one.columns,
      bitDepth: 8 * one.frames[0].BYTES_PER_ELEMENT,
      colour: one.colour,
    });
    const hash = createHash("sha256");
    for (const region of regionsOf(one))
      for (const [index, frame] of one.frames.entries()) {
        const samples = await container.readSamples(index, region);
        expect(samples.constructor).toBe(frame.constructor);
        expect(Array.from(samples), JSON.stringify(region)).toEqual(cut(one, frame, region));
        if (region.rows === one.rows && region.columns === one.columns)
          hash.update(new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength));
      }
    expect(hash.digest("hex")).toBe(one.sha256);
    await container.close();
  });

  it("and as sharp finds them in the TIFF files, of which one is LZW", async () => {
    // sharp takes differences behind PackBits for samples; tifffile and ffmpeg undo them, as the tag says. It gives
    // floating point as three channels, and reads no tiles of separate planes.
    const tiffs = containerFixtures.filter(
      ({ name, samples }) =>
        name.endsWith(".tif") && !/packbits-differences|planar-tiles/.test(name) && samples !== "float32",
    );
    expect(tiffs.some(({ name }) => name.includes("lzw"))).toBe(true);
    for (const { name, path, frames, colour } of tiffs)
      for (const [page, frame] of frames.entries()) {
        const isDeep = frame.BYTES_PER_ELEMENT === 2;
        const space = isDeep ? (colour ? "rgb16" : "grey16") : colour ? "srgb" : "b-w";
        const decoded = await sharp(path, { page })
          .pipelineColourspace(space)
          .toColourspace(space)
          .raw({ depth: isDeep ? "ushort" : "uchar" })
          .toBuffer();
        const bytes = Buffer.from(frame.buffer, frame.byteOffset, frame.byteLength);
        expect(decoded.equals(bytes), `${name}, page ${page}`).toBe(true);
      }
  });
});

describe("stacks that sharp writes", () => {
  // Noise of 16 bits fills the table of codes several times over.
  const [pages, rows, columns] = [3, 90, 110];
  let state = 20261127;
  const values = Uint16Array.from({ length: pages * rows * columns }, (_, i) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return i % 5 === 0 ? 7 : (state >>> 12) & 0xffff;
  });
  const stack = sharp(values, {
    raw: { width: columns, height: pages * rows, channels: 1, pageHeight: rows },
  })
    .pipelineColourspace("grey16")
    .toColourspace("grey16");

  it.each([
    ["lzw", "horizontal", false],
    ["lzw", "none", false],
    ["lzw", "horizontal", true],
    ["deflate", "horizontal", false],
    ["packbits", "none", false],
    ["none", "none", false],
    ["none", "none", true],
  ] as const)("%s, predictor %s, tiles: %s", async (compression, predictor, tile) => {
    const content = await stack
      .clone()
      .tiff({ compression, predictor, tile, tileWidth: 32, tileHeight: 48 })
      .toBuffer();
    const folder = await scratchFolder({ "stack.tif": content });
    const container = await openContainer(join(folder, "stack.tif"), null);
    expect(container).toMatchObject({ count: pages, warnings: [] });
    for (let index = 0; index < pages; index++) {
      const samples = await container.readSamples(index, { row: 0, column: 0, rows, columns });
      const wanted = values.subarray(index * rows * columns, (index + 1) * rows * columns);
      expect(samples.findIndex((value, i) => value !== wanted[i])).toBe(-1);
      expect(samples.length).toBe(wanted.length);
    }
    await container.close();
  });

  it("a few rows at the top of one large deflated strip", async () => {
    const [height, width] = [600, 500];
    const flat = Uint8Array.from({ length: height * width }, (_, i) => (i / width) | 0);
    const content = await sharp(flat, { raw: { width, height, channels: 1 } })
      .toColourspace("b-w")
      .tiff({ compression: "deflate", predictor: "none", tile: true, tileWidth: 512, tileHeight: 608 })
      .toBuffer();
    const folder = await scratchFolder({ "stack.tif": content });
    const sequence = await openFrames(join(folder, "stack.tif"));
    const { data } = await sequence.read(0, { row: 2, column: 100, rows: 1, columns: 3 });
    expect([...data]).toEqual([2, 2, 2]);
    await sequence.close();
  });
});

describe("containers beside each other", () => {
  it("the same frames have the same hash in every container", async () => {
    const bySamples = new Map<string, Set<string>>();
    for (const { path, options, samples } of containerFixtures) {
      const sequence = await openFrames(path, options);
      const hashes = bySamples.get(samples) ?? new Set();
      bySamples.set(samples, hashes.add(await sequence.hash()));
      await sequence.close();
    }
    expect([...bySamples.values()].map(({ size }) => size)).toEqual([...bySamples].map(() => 1));
    expect(new Set([...bySamples.values()].flatMap((hashes) => [...hashes])).size).toBe(bySamples.size);
  });

  it("the hash is over frame numbers and samples", async () => {
    const { path, frames } = fixture("u2-le-v1.npy");
    const hash = createHash("sha256");
    frames.slice(1).forEach((frame, k) => {
      const head = Buffer.alloc(8);
      head.writeBigInt64BE(BigInt(3 * (k + 1)));
      hash.update(head).update(new Uint8Array(frame.buffer));
    });
    const sequence = await openFrames(path, { frameStep: 3 });
    expect(await sequence.hash({ start: 1 })).toBe(hash.digest("hex"));
    await sequence.close();
  });

  it.each([
    ["refused-fortran.npy", "unsupported-frame", /Fortran order/],
    ["refused-i4.npy", "unsupported-frame", /<i4/],
    ["refused-flat.npy", "unsupported-frame", /\(13, 21\)/],
  ])("%s is refused and says why", async (name, code, message) => {
    await expect(openFrames(fixturePath(name))).rejects.toMatchObject({
      code,
      message: expect.stringMatching(message),
    });
  });

  it("a TIFF in which white is zero is turned over, as a still is", async () => {
    const values = Uint8Array.from({ length: 256 }, (_, i) => i);
    const content = handTiff({ columns: 16, rows: 16, bits: 8, photometric: 0, pages: 2, strip: values });
    const folder = await scratchFolder({ "stack.tif": content });
    const sequence = await openFrames(join(folder, "stack.tif"));
    expect([...(await sequence.read(1)).data]).toEqual([...values].map((value) => 255 - value));
    await sequence.close();
  });

  it("a NumPy header with whole numbers as Python 2 wrote them is read", async () => {
    const text = "{'descr': '|u1', 'fortran_order': False, 'shape': (2L, 1L, 3L), }";
    const head = Buffer.from(`\x93NUMPY\x01\0${String.fromCharCode(text.length)}\0${text}`, "latin1");
    const folder = await scratchFolder({ "a.npy": Buffer.concat([head, Buffer.of(1, 2, 3, 4, 5, 6)]) });
    const sequence = await openFrames(join(folder, "a.npy"));
    expect([...(await sequence.read(1)).data]).toEqual([4, 5, 6]);
    await sequence.close();
  });

  it.each([
    ["of equal length", ["FRAME XT=10", "FRAME XT=20", "FRAME XT=30"]],
    ["in the first alone", ["FRAME Ip", "FRAME", "FRAME"]],
    ["in the last alone", ["FRAME", "FRAME", "FRAME XA=b"]],
    ["longer and longer", ["FRAME X", "FRAME X1", "FRAME X12"]],
  ])("y4m: parameters of frames %s are passed over, and a cut is noticed", async (_, headers) => {
    const frames = headers.map((header, k) => `${header}\n${String.fromCharCode(k, k + 1)}`);
    const content = Buffer.from(`YUV4MPEG2 W2 H1 Cmono\n${frames.join("")}`, "latin1");
    const folder = await scratchFolder({ whole: content, cut: content.subarray(0, -1) });
    for (const [name, count] of [
      ["whole", 3],
      ["cut", 2],
    ] as const) {
      const sequence = await openFrames(join(folder, name));
      const seen: number[][] = [];
      for await (const { frame } of sequence.frames()) seen.push([...frame.data]);
      expect(seen).toEqual(
        [
          [0, 1],
          [1, 2],
          [2, 3],
        ].slice(0, count),
      );
      expect(sequence.warnings.map(({ code }) => code)).toEqual(count === 3 ? [] : ["truncated"]);
      await sequence.close();
    }
  });

  it("a gap behind the last frame is not taken for a frame cut short", async () => {
    const folder = await scratchFolder({ "a.raw": Uint8Array.of(1, 2, 9, 9, 9, 3, 4, 9, 9, 9) });
    const raw = { columns: 2, rows: 1, sample: "u8", gap: 3 } as const;
    const sequence = await openFrames(join(folder, "a.raw"), { raw });
    expect(sequence.warnings).toEqual([]);
    expect(sequence.numbers).toEqual([0, 1]);
    expect([...(await sequence.read(1)).data]).toEqual([3, 4]);
    await sequence.close();
  });

  it("a file that is written to while its frames are read is an error once they are", async () => {
    const folder = await scratchFolder({ "a.raw": Uint8Array.of(1, 2, 3, 4, 5, 6) });
    const file = join(folder, "a.raw");
    const sequence = await openFrames(file, { raw: { columns: 2, rows: 1, sample: "u8" } });
    const seen: number[] = [];
    const loop = async () => {
      for await (const { number } of sequence.frames()) {
        seen.push(number);
        // Written at the end: a file emptied first may be read while it is empty.
        await appendFile(file, Uint8Array.of(7));
      }
    };
    await expect(loop()).rejects.toMatchObject({ code: "changed-frame", file: "a.raw" });
    expect(seen).toEqual([0, 1, 2]);
    await sequence.close();
  });
});
