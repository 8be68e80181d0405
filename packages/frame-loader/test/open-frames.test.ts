import { mkdir, symlink, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { openFrames } from "../src/index.js";
import { handPng } from "./support/handPng.js";
import { handTiff } from "./support/handTiff.js";
import { scratchFolder } from "./support/scratchFolder.js";

const grey = (columns: number, rows: number, bits: 8 | 16 = 8) =>
  handPng({ columns, rows, bits, colourType: 0, samples: new Uint8Array((columns * rows * bits) / 8) });
const rgb = (columns: number, rows: number) =>
  handPng({ columns, rows, bits: 8, colourType: 2, samples: new Uint8Array(3 * columns * rows) });

async function failure(path: string) {
  return openFrames(path).then(
    () => undefined,
    (error) => error,
  );
}

describe("openFrames", () => {
  it("describes what the headers say, under the folder's base name", async () => {
    const folder = await scratchFolder({ "t1.png": grey(5, 3, 16), "t2.png": grey(5, 3, 16) });
    const sequence = await openFrames(`${folder}/`);
    expect(sequence).toMatchObject({
      rows: 3,
      columns: 5,
      bitDepth: 16,
      colour: false,
      name: basename(folder),
    });
    expect(sequence.warnings).toEqual([]);
    const colour = await openFrames(await scratchFolder({ "t1.png": rgb(5, 3) }));
    expect(colour).toMatchObject({ rows: 3, columns: 5, bitDepth: 8, colour: true });
  });

  it("ignores what is not part of the sequence and names the first few", async () => {
    const folder = await scratchFolder([
      ...Array.from({ length: 5 }, (_, i) => `tile_00${i}.png`),
      "cal_001.png",
      "poster.png",
      ".hidden_001.png",
      "thumbs.db",
    ]);
    const { numbers, warnings } = await openFrames(folder);
    expect(numbers).toEqual([0, 1, 2, 3, 4]);
    expect(warnings.map((w) => w.code)).toEqual(["ignored-files"]);
    expect(warnings[0].message).toContain("4 file(s)");
    expect(warnings[0].message).toContain("cal_001.png, poster.png, .hidden_001.png and 1 more");
  });

  it("ignores the program's own files without a word", async () => {
    const own = ["take.json", "blast.take.json", "result.json", "track.csv"];
    expect((await openFrames(await scratchFolder(["t1.png", ...own]))).warnings).toEqual([]);
  });

  it("does not look at stills that are not part of the sequence", async () => {
    const folder = await scratchFolder({
      "t1.png": grey(2, 2),
      "t2.png": grey(2, 2),
      "poster.png": new Uint8Array(),
      "cal_1.png": rgb(9, 9),
    });
    expect((await openFrames(folder)).numbers).toEqual([1, 2]);
  });

  it("refuses to choose between two patterns of equal weight", async () => {
    const error = await failure(await scratchFolder(["a1.png", "a2.png", "b1.png", "b2.png"]));
    expect(error).toMatchObject({ code: "ambiguous-sequence", name: "FrameLoadError" });
    expect(error.message).toMatch(/a1\.png.*b1\.png.*folder of its own/);
  });

  it.each([
    ["in size", grey(3, 2), "3 x 2 pixels, grey, 8 bits"],
    ["in depth", grey(2, 2, 16), "2 x 2 pixels, grey, 16 bits"],
    ["in colour", rgb(2, 2), "2 x 2 pixels, colour, 8 bits"],
  ])("names the first still that differs %s, and what the others are", async (_what, odd, is) => {
    const usual = grey(2, 2);
    for (const at of [0, 2]) {
      const contents = [usual, usual, usual, odd].map((_, i) => (i === at ? odd : usual));
      const folder = await scratchFolder(Object.fromEntries(contents.map((c, i) => [`t${i}.png`, c])));
      const error = await failure(folder);
      expect(error).toMatchObject({ code: "mixed-frames", file: `t${at}.png` });
      expect(error.message).toContain(
        `t${at}.png is ${is}, but 3 of 4 stills are 2 x 2 pixels, grey, 8 bits`,
      );
    }
  });

  it("reads the first picture of a TIFF with several and warns", async () => {
    const still = (pages: number) =>
      handTiff({ columns: 2, rows: 1, bits: 8, strip: Uint8Array.of(3, 4), pages });
    const sequence = await openFrames(await scratchFolder({ "t1.tif": still(1), "t2.tiff": still(3) }));
    expect(sequence.warnings.map((w) => w.code)).toEqual(["extra-pages"]);
    expect(sequence.warnings[0].message).toContain("t2.tiff with 3");
    expect([...(await sequence.read(1)).data]).toEqual([3, 4]);
  });

  it("reads the first picture of an animated WebP and warns", async () => {
    const picture = (value: number) =>
      sharp(new Uint8Array(16 * 16 * 3).fill(value), { raw: { width: 16, height: 16, channels: 3 } })
        .png()
        .toBuffer();
    const pictures = [await picture(10), await picture(200)];
    const animated = await sharp(pictures, { join: { animated: true } })
      .webp({ lossless: true })
      .toBuffer();
    const sequence = await openFrames(await scratchFolder({ "t1.webp": animated }));
    expect(sequence).toMatchObject({ rows: 16, columns: 16, colour: true, bitDepth: 8 });
    expect(sequence.warnings.map((w) => w.code)).toEqual(["extra-pages"]);
    expect(sequence.warnings[0].message).toContain("t1.webp with 2");
    expect([...new Set((await sequence.read(0)).data)]).toEqual([10]);
  });

  it("opens two thousand stills with headers alone, in order", async () => {
    const names = Array.from(
      { length: 2000 },
      (_, i) => `t${i - 1000 < 0 ? "-" : ""}${Math.abs(i - 1000)}.png`,
    );
    const { numbers, warnings } = await openFrames(await scratchFolder(names));
    expect(numbers).toEqual(Array.from({ length: 2000 }, (_, i) => i - 1000));
    expect(warnings).toEqual([]);
  });

  it("opens a folder whose name has brackets, spaces and a percent sign", async () => {
    const folder = join(await scratchFolder([]), "tile [a,b] 50% ü");
    await mkdir(folder);
    await writeFile(join(folder, "t1.png"), grey(2, 2));
    const sequence = await openFrames(folder);
    expect(sequence.name).toBe("tile [a,b] 50% ü");
    expect((await sequence.read(0)).shape).toEqual([2, 2]);
  });
});

describe("openFrames fails with a code and what to do", () => {
  it("for a folder that does not exist and for a file that holds no frames", async () => {
    const folder = await scratchFolder(["t1.png"]);
    expect(await failure(join(folder, "nowhere"))).toMatchObject({
      code: "not-a-folder",
      message: expect.stringContaining("does not exist"),
    });
    expect(await failure(join(folder, "t1.png"))).toMatchObject({
      code: "unknown-container",
      message: expect.stringContaining("t1.png is none of the files of frames that are known"),
    });
  });

  it("for an empty folder, one without stills and one without numbers", async () => {
    expect((await failure(await scratchFolder([]))).message).toContain("the folder is empty");
    const others = await failure(await scratchFolder(["clip.avi", "notes.txt"]));
    expect(others.message).toContain("it holds clip.avi, notes.txt");
    const unnumbered = await failure(await scratchFolder(["poster.png"]));
    expect(unnumbered.message).toContain("poster.png");
    expect([others.code, unnumbered.code]).toEqual(["no-frames", "no-frames"]);
  });

  it.each([
    ["is empty", new Uint8Array(), "corrupt-frame", "empty (0 bytes)"],
    ["is text", Buffer.from("these are not pixels\n"), "corrupt-frame", "is not a PNG, JPEG, TIFF or WebP"],
    [
      "is a drawing",
      Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="2" height="2"/>'),
      "unsupported-frame",
      "is a svg file",
    ],
    [
      "has ink channels",
      handTiff({ columns: 1, rows: 1, bits: 8, channels: 4, photometric: 5, strip: new Uint8Array(4) }),
      "unsupported-frame",
      "cmyk",
    ],
    [
      "has signed samples",
      handTiff({ columns: 1, rows: 1, bits: 16, sampleFormat: 2, strip: new Uint8Array(2) }),
      "unsupported-frame",
      "short samples",
    ],
    [
      "has 32-bit whole samples",
      handTiff({ columns: 1, rows: 1, bits: 32, strip: new Uint8Array(4) }),
      "unsupported-frame",
      "uint samples",
    ],
  ])("for a still that %s", async (_what, content, code, words) => {
    const error = await failure(await scratchFolder({ "t1.png": grey(2, 2), "t2.png": content }));
    expect(error).toMatchObject({ code, file: "t2.png" });
    expect(error.message).toContain("t2.png");
    expect(error.message).toContain(words);
  });

  it("for a link to nothing in the middle of the sequence", async () => {
    const folder = await scratchFolder(["t1.png", "t3.png"]);
    await symlink(join(folder, "gone.png"), join(folder, "t2.png"));
    expect(await failure(folder)).toMatchObject({
      code: "unreadable-frame",
      file: "t2.png",
      message: expect.stringContaining("a link to a file that is not there"),
    });
  });

  it("for a folder named like a still of the sequence", async () => {
    const folder = await scratchFolder(["t1.png", "t3.png"]);
    await mkdir(join(folder, "t2.png"));
    expect(await failure(folder)).toMatchObject({
      code: "unreadable-frame",
      file: "t2.png",
      message: expect.stringContaining("is a folder"),
    });
  });

  it("with the abort reason where the signal has aborted", async () => {
    const reason = new Error("called off");
    const folder = await scratchFolder(["t1.png"]);
    await expect(openFrames(folder, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);
  });
});
