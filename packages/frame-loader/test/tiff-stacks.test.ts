import { join } from "node:path";
import { deflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { openFrames } from "../src/index.js";
import { scratchFolder } from "./support/scratchFolder.js";

const [COLUMNS, ROWS] = [5, 3];
const PIXELS = COLUMNS * ROWS;

interface Page {
  readonly samples: Uint8Array;
  readonly tags?: Readonly<Record<number, readonly number[] | string>>;
}

/** A classic little-endian TIFF of one strip a page, or as its tags say. Lists and texts lie behind the entries.
 *  @see TIFF 6.0, section 2 */
function tiff(pages: readonly Page[], behind: Uint8Array = new Uint8Array()): Buffer {
  const parts: Buffer[] = [];
  let at = 8;
  const put = (bytes: Uint8Array) => {
    const padded = Buffer.concat([bytes, Buffer.alloc(bytes.length % 2)]);
    parts.push(padded);
    at += padded.length;
    return at - padded.length;
  };
  const directories = pages.map(({ samples, tags = {} }) => {
    const dataAt = put(samples);
    const all = {
      ...{ 256: [COLUMNS], 257: [ROWS], 258: [8], 259: [1], 262: [1], 273: [dataAt], 277: [1] },
      ...{ 278: [ROWS], 279: [samples.length], ...tags },
    };
    return Object.entries(all)
      .map(([tag, values]) => [Number(tag), values as readonly number[] | string] as const)
      .sort(([a], [b]) => a - b);
  });
  let linkAt = 4;
  const links: [at: number, to: number][] = [];
  for (const entries of directories) {
    const begin = at;
    const size = 2 + 12 * entries.length + 4;
    const bytes = Buffer.alloc(size);
    const lists: Buffer[] = [];
    let listAt = begin + size;
    bytes.writeUInt16LE(entries.length, 0);
    for (const [k, [tag, values]] of entries.entries()) {
      const list =
        typeof values === "string"
          ? Buffer.from(`${values}\0`)
          : Buffer.from(new Uint8Array(Uint32Array.from(values).buffer));
      bytes.writeUInt16LE(tag, 2 + 12 * k);
      bytes.writeUInt16LE(typeof values === "string" ? 2 : 4, 4 + 12 * k);
      bytes.writeUInt32LE(values.length + (typeof values === "string" ? 1 : 0), 6 + 12 * k);
      if (list.length <= 4) list.copy(bytes, 10 + 12 * k);
      else {
        bytes.writeUInt32LE(listAt, 10 + 12 * k);
        lists.push(list);
        listAt += list.length;
      }
    }
    links.push([linkAt, begin]);
    linkAt = begin + size - 4;
    put(Buffer.concat([bytes, ...lists]));
  }
  const content = Buffer.concat([Buffer.from("II*\0\0\0\0\0", "latin1"), ...parts, behind]);
  for (const [link, to] of links) content.writeUInt32LE(to, link);
  return content;
}

async function opened(content: Uint8Array) {
  return openFrames(join(await scratchFolder({ take: content }), "take"));
}

async function framesOf(content: Uint8Array): Promise<number[][]> {
  const sequence = await opened(content);
  const frames: number[][] = [];
  for await (const { frame } of sequence.frames()) frames.push([...frame.data]);
  await sequence.close();
  return frames;
}

const picture = (page: number) => Uint8Array.from({ length: PIXELS }, (_, k) => (page * 37 + k * 11) % 256);
const pictures = [0, 1, 2, 3].map(picture);
const expected = pictures.map((samples) => [...samples]);

describe("pages that are stored differently", () => {
  it("some compressed, some in several strips, some with white as zero: the frames are the same", async () => {
    const packed = deflateSync(pictures[1]);
    const stripped = [0, 1, 2].map((row) => 8 + 16 + Math.ceil(packed.length / 2) * 2 + row * COLUMNS);
    const content = tiff([
      { samples: pictures[0] },
      { samples: packed, tags: { 259: [8] } },
      { samples: pictures[2], tags: { 273: stripped, 278: [1], 279: [COLUMNS, COLUMNS, COLUMNS] } },
      { samples: pictures[3].map((value) => 255 - value), tags: { 262: [0] } },
    ]);
    expect(await framesOf(content)).toEqual(expected);
  });

  it("a page of another size is refused", async () => {
    const content = tiff([{ samples: pictures[0] }, { samples: pictures[1], tags: { 257: [2] } }]);
    await expect(opened(content)).rejects.toMatchObject({ code: "mixed-frames" });
  });
});

describe("pages that are no frames", () => {
  const small = { samples: Uint8Array.of(1, 2), tags: { 256: [2], 257: [1] } };
  const reduced = { ...small, tags: { ...small.tags, 254: [1] } };
  const oldReduced = { ...small, tags: { ...small.tags, 255: [2] } };
  const mask = { samples: pictures[0], tags: { 254: [4], 262: [4] } };
  const jpeg = { ...small, tags: { ...small.tags, 254: [1], 259: [7] } };
  const frames = pictures.map((samples) => ({ samples }));

  it.each([
    ["smaller copies behind each", frames.flatMap((frame) => [frame, reduced])],
    ["a smaller copy before all", [reduced, ...frames]],
    ["a smaller copy behind all", [...frames, reduced]],
    ["one marked as in older files", [...frames, oldReduced]],
    ["a mask", [...frames, mask]],
    ["a smaller copy of a kind that is not read", [jpeg, ...frames]],
  ])("%s are passed over", async (_, pages) => {
    expect(await framesOf(tiff(pages))).toEqual(expected);
  });

  it("where there is nothing else, it is an error", async () => {
    await expect(opened(tiff([reduced, reduced]))).rejects.toMatchObject({ code: "corrupt-frame" });
  });
});

describe("pictures behind the one that has a directory", () => {
  const pile = (text: string, rest: Uint8Array) => {
    const content = tiff([{ samples: pictures[0], tags: { 270: text } }]);
    // Samples lie behind the directory here, all in one piece.
    const dataAt = content.length;
    const first = tiff([{ samples: new Uint8Array(PIXELS), tags: { 270: text, 273: [dataAt] } }]);
    return Buffer.concat([first, rest]);
  };
  const all = Buffer.concat(pictures);

  it.each([
    "program=1.53t\nimages=4\nframes=4\nhyperstack=true\n",
    '{"shape": [4, 3, 5], "truncated": true}',
    '{"shape": [2, 2, 3, 5], "truncated": true}',
  ])("are frames where the description says how many: %j", async (text) => {
    expect(await framesOf(pile(text, all))).toEqual(expected);
  });

  it("are those that are there as a whole where the file is cut short, and that is said", async () => {
    const sequence = await opened(pile("program=1.53t\nimages=4\n", all.subarray(0, -1)));
    expect(sequence.numbers).toEqual([0, 1, 2]);
    expect(sequence.warnings.map(({ code }) => code)).toEqual(["truncated"]);
    expect([...(await sequence.read(2, { row: 1, column: 1, rows: 1, columns: 2 })).data]).toEqual(
      expected[2].slice(6, 8),
    );
    await sequence.close();
  });

  it.each(["program=1.53t\nslices=4\n", "images=4\n", '{"shape": [4, 3, 5]}', "program=1\nimages=1e9\n"])(
    "are none where it does not: %j",
    async (text) => {
      expect(await framesOf(pile(text, all))).toEqual(expected.slice(0, 1));
    },
  );

  it("10^15 of them are no more than there are", async () => {
    const sequence = await opened(pile("program=1.53t\nimages=1000000000000000\n", all));
    expect(sequence.numbers.length).toBe(4);
    await sequence.close();
  });
});

describe("pixels of other than one or three samples", () => {
  it("transparency is dropped", async () => {
    const withAlpha = pictures.map((samples) => ({
      samples: Uint8Array.from({ length: 2 * PIXELS }, (_, k) => (k % 2 ? 99 : samples[k / 2])),
      tags: { 258: [8, 8], 277: [2], 338: [2] },
    }));
    expect(await framesOf(tiff(withAlpha))).toEqual(expected);
  });

  it("a second sample that is not transparency is refused", async () => {
    const two = { samples: new Uint8Array(2 * PIXELS), tags: { 258: [8, 8], 277: [2], 338: [0] } };
    await expect(opened(tiff([two, two]))).rejects.toMatchObject({ code: "unsupported-frame" });
  });

  it.each([8, 16])("an index is read as the luminance of its colour, of %i bits", async (bits) => {
    const colours = Array.from({ length: 768 }, (_, k) => (k * 89 + 5) % 256);
    const map = colours.map((value) => (bits === 8 ? value : value * 257));
    const content = tiff(pictures.map((samples) => ({ samples, tags: { 262: [3], 320: map } })));
    const luma = (index: number) =>
      Math.fround(0.2126 * colours[index] + 0.7152 * colours[256 + index] + 0.0722 * colours[512 + index]);
    expect(await framesOf(content)).toEqual(expected.map((samples) => samples.map(luma)));
  });

  it("samples of undefined format are whole numbers", async () => {
    expect(await framesOf(tiff(pictures.map((samples) => ({ samples, tags: { 339: [4] } }))))).toEqual(
      expected,
    );
  });
});

describe("a stack alone in a folder", () => {
  const content = tiff(pictures.map((samples) => ({ samples })));

  it("is one still, and the warning says to give the file itself", async () => {
    const sequence = await openFrames(await scratchFolder({ "stack_1.tif": content }));
    expect(sequence.warnings).toEqual([
      { code: "extra-pages", message: expect.stringContaining("give stack_1.tif itself as the take") },
    ]);
    await sequence.close();
  });

  it("without a number in its name is refused with the same advice", async () => {
    await expect(openFrames(await scratchFolder({ "stack.tif": content }))).rejects.toMatchObject({
      code: "no-frames",
      message: expect.stringContaining("give the file itself"),
    });
  });
});
