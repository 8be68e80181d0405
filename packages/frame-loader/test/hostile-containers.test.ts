import { open, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { openFrames, parseRawLayout } from "../src/index.js";
import { PositionedFile } from "../src/places/positioned-file.js";
import { scratchFolder } from "./support/scratchFolder.js";

/** Bytes asked for since the test began. */
let asked = 0;
let largest = 0;

beforeEach(() => {
  [asked, largest] = [0, 0];
  const { read } = PositionedFile.prototype;
  vi.spyOn(PositionedFile.prototype, "read").mockImplementation(function (this: PositionedFile, at, length) {
    asked += length;
    largest = Math.max(largest, length);
    return read.call(this, at, length);
  });
});
afterEach(() => {
  vi.restoreAllMocks();
});

interface Page {
  /** By tag: type, values. */
  readonly tags: Readonly<Record<number, readonly [3 | 4 | 16, readonly number[]]>>;
  /** Of the next directory. Default: the one behind this, 0 for the last. */
  readonly nextAt?: number;
}

const [COLUMNS, ROWS] = [8, 6];
/** Bytes between the directories of {@link stack}. */
const STEP = 512;
const FIRST_AT = 16;
const DATA_IN_PAGE = 256;

function tags(page: number, more: Page["tags"] = {}): Page["tags"] {
  return {
    256: [3, [COLUMNS]],
    257: [3, [ROWS]],
    258: [3, [8]],
    259: [3, [1]],
    262: [3, [1]],
    273: [16, [FIRST_AT + page * STEP + DATA_IN_PAGE]],
    277: [3, [1]],
    278: [3, [ROWS]],
    279: [16, [ROWS * COLUMNS]],
    ...more,
  };
}

/** A little-endian BigTIFF of directories at even distances, each page filled with its index; every value that is not
 *  in its entry lies behind the entries. */
function stack(pages: readonly Page[]): Buffer {
  const result = Buffer.alloc(FIRST_AT + pages.length * STEP);
  result.write("II", "latin1");
  result.writeUInt16LE(43, 2);
  result.writeUInt16LE(8, 4);
  result.writeBigUInt64LE(BigInt(FIRST_AT), 8);
  pages.forEach((page, index) => {
    const at = FIRST_AT + index * STEP;
    const entries = Object.entries(page.tags);
    result.writeBigUInt64LE(BigInt(entries.length), at);
    entries.forEach(([tag, [type, values]], k) => {
      const from = at + 8 + 20 * k;
      result.writeUInt16LE(Number(tag), from);
      result.writeUInt16LE(type, from + 2);
      result.writeBigUInt64LE(BigInt(values.length), from + 4);
      if (type === 16) result.writeBigUInt64LE(BigInt.asUintN(64, BigInt(values[0])), from + 12);
      else if (type === 4) result.writeUInt32LE(values[0], from + 12);
      else result.writeUInt16LE(values[0], from + 12);
    });
    const next = page.nextAt ?? (index + 1 < pages.length ? at + STEP : 0);
    result.writeBigUInt64LE(BigInt.asUintN(64, BigInt(next)), at + 8 + 20 * entries.length);
    result.fill(index, at + DATA_IN_PAGE, at + DATA_IN_PAGE + ROWS * COLUMNS);
  });
  return result;
}

const plain = (count: number): Page[] => Array.from({ length: count }, (_, k) => ({ tags: tags(k) }));
/** Directories whose distances are not even, by the same number of pages. */
const packed = (count: number): Page[] =>
  Array.from({ length: count }, (_, k) => ({ tags: tags(k, { 259: [3, [32_773]] }) }));

async function opened(content: Uint8Array | Buffer, options = {}) {
  const folder = await scratchFolder({ take: content });
  return openFrames(join(folder, "take"), options);
}

/** Refused within two seconds, with no more bytes read than that. */
async function refused(content: Uint8Array, code: string, message: RegExp, mostBytes = 100_000) {
  const folder = await scratchFolder({ take: content });
  const begun = performance.now();
  await expect(openFrames(join(folder, "take"))).rejects.toMatchObject({
    code,
    message: expect.stringMatching(message),
  });
  expect(asked).toBeLessThan(mostBytes);
  expect(performance.now() - begun).toBeLessThan(2000);
}

describe("pages of a stack", () => {
  it("the stack that the other tests spoil is sound", async () => {
    const sequence = await opened(stack(plain(6)));
    expect([sequence.numbers.length, sequence.warnings]).toEqual([6, []]);
    for (const k of [0, 3, 5]) expect([...(await sequence.read(k)).data]).toEqual(Array(48).fill(k));
    await sequence.close();
  });

  it.each([0, 1, 3, 5])("a chain that leads from the last page back to page %i is refused", async (to) => {
    const pages = plain(6);
    pages[5] = { ...pages[5], nextAt: FIRST_AT + to * STEP };
    await refused(stack(pages), "corrupt-frame", /back to one before/);
  });

  it.each([0, 1, 2])("a chain that leads from page 2 back to page %i is no take of six", async (to) => {
    const pages = plain(6);
    pages[2] = { ...pages[2], nextAt: FIRST_AT + to * STEP };
    const sequence = await opened(stack(pages)).catch((error: unknown) => error);
    if (sequence instanceof Error) expect(sequence).toMatchObject({ code: "corrupt-frame" });
    else
      await expect((sequence as Awaited<ReturnType<typeof opened>>).read(2)).rejects.toMatchObject({
        code: "corrupt-frame",
      });
  });

  it.each([0, 1, 2])("nor are compressed pages that lead back to page %i", async (to) => {
    const pages = packed(6);
    pages[2] = { ...pages[2], nextAt: FIRST_AT + to * STEP };
    await refused(stack(pages), "corrupt-frame", /back to one before/);
  });

  it.each([-1, -512, 2 ** 53, 2 ** 62, 2 ** 40])("a next page at %i is a file cut short", async (nextAt) => {
    const pages = plain(3);
    pages[2] = { ...pages[2], nextAt };
    const sequence = await opened(stack(pages));
    expect(sequence.warnings.map(({ code }) => code)).toEqual(["truncated"]);
    expect(sequence.numbers).toEqual([0, 1, 2]);
    expect(asked).toBeLessThan(100_000);
    await sequence.close();
  });

  it("a first page behind the end is refused", async () => {
    for (const at of [2n ** 63n, 2n ** 64n - 1n, 2n ** 40n, 1n, 0n]) {
      const content = stack(plain(2));
      content.writeBigUInt64LE(at, 8);
      await refused(content, "corrupt-frame", /cut short|directory of|tag|piece|state/);
    }
  });

  it("directories that share one long list do not have it read for each", async () => {
    // Every page claims 2^16 strips whose places lie in one list in the second half of the file.
    const [pages, strips] = [200, 65_536];
    const listAt = FIRST_AT + pages * STEP;
    const content = Buffer.concat([
      stack(
        Array.from({ length: pages }, (_, k) => ({
          tags: tags(k, {
            256: [3, [1]],
            257: [4, [strips]],
            259: [3, [32_773]],
            273: [16, [listAt]],
            278: [3, [1]],
            279: [16, [listAt]],
          }),
        })),
      ),
      Buffer.alloc(8 * strips, 1),
    ]);
    for (let k = 0; k < pages; k++)
      for (const tag of [5, 8])
        content.writeBigUInt64LE(BigInt(strips), FIRST_AT + k * STEP + 8 + 20 * tag + 4);
    for (let k = 0; k < strips; k++) content.writeBigUInt64LE(16n, listAt + 8 * k);
    await refused(content, "corrupt-frame", /over each other/, 8 * content.length);
  });

  it.each([
    [1e9, "corrupt-frame", /more than/],
    [1e6, null, null],
  ])(
    "%i pages of which the first two and the last are there: few bytes are read",
    async (count, code, message) => {
      const folder = await scratchFolder({ take: stack(plain(3)).subarray(0, FIRST_AT + 2 * STEP) });
      const path = join(folder, "take");
      await truncate(path, FIRST_AT + count * STEP);
      const last = stack([{ tags: tags(count - 1) }]).subarray(FIRST_AT);
      const handle = await open(path, "r+");
      await handle.write(last, 0, last.length, FIRST_AT + (count - 1) * STEP);
      await handle.close();
      const sequence = await openFrames(path).catch((error: unknown) => error);
      expect(asked).toBeLessThan(100_000);
      if (code) return expect(sequence).toMatchObject({ code, message: expect.stringMatching(message) });
      const { numbers, read, close } = sequence as Awaited<ReturnType<typeof openFrames>>;
      expect(numbers.length).toBe(count);
      expect((await read(count - 1)).data[0]).toBe(0);
      await expect(read(500_000)).rejects.toMatchObject({ code: "corrupt-frame" });
      await close();
    },
  );

  it.each<[string, Page["tags"], string]>([
    ["an overflowing size", { 256: [4, [0xffff_ffff]], 257: [4, [0xffff_ffff]] }, "corrupt-frame"],
    ["no rows", { 257: [3, [0]] }, "corrupt-frame"],
    ["strips without rows", { 278: [3, [0]] }, "corrupt-frame"],
    [
      "10^9 pixels in a strip of 48 bytes",
      { 256: [4, [1e5]], 257: [4, [1e4]], 278: [4, [1e4]] },
      "corrupt-frame",
    ],
    [
      "the same compressed",
      { 256: [4, [1e4]], 257: [4, [1e4]], 278: [4, [1e4]], 259: [3, [5]] },
      "corrupt-frame",
    ],
    ["tiles without rows", { 322: [3, [16]], 323: [3, [0]] }, "corrupt-frame"],
    ["huge tiles", { 322: [4, [2 ** 31]], 323: [4, [2 ** 31]] }, "corrupt-frame"],
    ["a strip at a negative place", { 273: [16, [-64]] }, "corrupt-frame"],
    ["a strip behind the end", { 273: [16, [2 ** 50]] }, "corrupt-frame"],
    ["a strip of more bytes than the file", { 279: [16, [2 ** 60]] }, "corrupt-frame"],
    ["bits that run the other way", { 266: [3, [2]] }, "unsupported-frame"],
    ["differences that are not compressed", { 317: [3, [2]] }, "unsupported-frame"],
    ["another compression", { 259: [3, [7]] }, "unsupported-frame"],
    ["inks", { 262: [3, [5]] }, "unsupported-frame"],
    ["signed samples", { 339: [3, [2]] }, "unsupported-frame"],
  ])("%s is refused", async (_, more, code) => {
    await refused(stack([{ tags: tags(0, more) }]), code, /./);
  });

  it("lists of 2^62 entries or values are refused", async () => {
    const content = stack(plain(1));
    content.writeBigUInt64LE(2n ** 62n, FIRST_AT);
    await refused(content, "corrupt-frame", /directory of/);
    const values = stack(plain(1));
    values.writeBigUInt64LE(2n ** 62n, FIRST_AT + 8 + 20 * 5 + 4);
    await refused(values, "corrupt-frame", /values of type/);
  });

  it("of a compressed strip that claims a large file, no more is read than a strip can have", async () => {
    const content = stack([{ tags: tags(0, { 259: [3, [32_773]], 279: [16, [2 ** 35]] }) }]);
    content[FIRST_AT + DATA_IN_PAGE] = 47;
    const folder = await scratchFolder({ take: content });
    await truncate(join(folder, "take"), 2 ** 36);
    const sequence = await openFrames(join(folder, "take"));
    expect((await sequence.read(0)).shape).toEqual([ROWS, COLUMNS]);
    expect(largest).toBeLessThan(100_000);
    await sequence.close();
  });
});

describe("headers of other files", () => {
  const npy = (header: string, length = header.length) => {
    const head = Buffer.from("\x93NUMPY\x02\x00\0\0\0\0", "latin1");
    head.writeUInt32LE(length, 8);
    return Buffer.concat([head, Buffer.from(header), Buffer.alloc(64)]);
  };
  const shaped = (shape: string) => npy(`{'descr': '<u2', 'fortran_order': False, 'shape': (${shape}), }\n`);

  it.each<[string, Uint8Array, RegExp]>([
    ["a header of 4 GB", npy("{", 2 ** 32 - 1), /header of/],
    ["sizes that overflow", shaped("1, 4294967296, 4294967296"), /impossible/],
    ["sizes without end", shaped(`1, ${"9".repeat(400)}, 1`), /impossible/],
    ["negative sizes", shaped("1, -4, -4"), /NumPy header/],
    ["no columns", shaped("1, 4, 0"), /impossible/],
    ["no frames", shaped("0, 4, 4"), /one whole frame/],
    ["10^9 frames too large for it", shaped("1000000000, 100, 100"), /one whole frame/],
    ["no header at all", npy("\0".repeat(60)), /NumPy header/],
    [
      "an end within the header",
      Buffer.from("\x93NUMPY\x01\x00\x04", "latin1"),
      /ends within .* after 9 bytes/,
    ],
    ["another version", Buffer.from("\x93NUMPY\x09\x00\x04\x00{  }", "latin1"), /version/],
  ])("npy: %s", async (_, content, message) => refused(content, "corrupt-frame", message));

  it("npy: 10^9 frames of which two are there", async () => {
    const sequence = await opened(shaped("1000000000, 4, 4"));
    expect(sequence.numbers).toEqual([0, 1]);
    expect(sequence.warnings.map(({ code }) => code)).toEqual(["truncated"]);
    await sequence.close();
  });

  it("npy: a header of a megabyte of beginnings is searched in time", async () => {
    const text = "'descr': '<u2', 'shape': (1, 1, ".repeat(30_000);
    await refused(npy(text), "corrupt-frame", /NumPy header/, 2_000_000);
  });

  const y4m = (header: string) => Buffer.concat([Buffer.from(header), Buffer.alloc(300)]);
  it.each<[string, Uint8Array, string, RegExp]>([
    [
      "a line without end",
      Buffer.from(`YUV4MPEG2 W4 H4 ${"x".repeat(1_000_000)}`),
      "corrupt-frame",
      /does not end/,
    ],
    [
      "a frame whose line has no end",
      Buffer.from(`YUV4MPEG2 W4 H4 Cmono\nFRAME ${"x".repeat(1_000_000)}`),
      "corrupt-frame",
      /does not end/,
    ],
    [
      "sizes that overflow",
      y4m("YUV4MPEG2 W4294967296 H4294967296 Cmono\nFRAME\n"),
      "corrupt-frame",
      /impossible/,
    ],
    ["a negative size", y4m("YUV4MPEG2 W-4 H-4 Cmono\nFRAME\n"), "corrupt-frame", /impossible/],
    ["a size that is none", y4m("YUV4MPEG2 W0x4 H1e1 Cmono\nFRAME\n"), "corrupt-frame", /impossible/],
    ["no size", y4m("YUV4MPEG2 Cmono\nFRAME\n"), "corrupt-frame", /impossible/],
    ["no frame", y4m("YUV4MPEG2 W4 H4 Cmono\n"), "corrupt-frame", /does not end/],
    ["interlaced", y4m("YUV4MPEG2 W4 H4 It Cmono\nFRAME\n"), "unsupported-frame", /interlaced/],
    ["another arrangement", y4m("YUV4MPEG2 W4 H4 C440\nFRAME\n"), "unsupported-frame", /C440/],
  ])("y4m: %s", async (_, content, code, message) => refused(content, code, message));

  it("y4m: a frame that does not begin where it should is an error, those before it are read", async () => {
    const frame = Buffer.from("FRAME\n\x01\x02\x03\x04", "latin1");
    const head = Buffer.from("YUV4MPEG2 W2 H2 Cmono\n");
    const sequence = await opened(Buffer.concat([head, frame, frame, Buffer.from("FRAMEX\n123"), frame]));
    expect([...(await sequence.read(1)).data]).toEqual([1, 2, 3, 4]);
    await expect(sequence.read(2)).rejects.toMatchObject({ code: "corrupt-frame" });
    await sequence.close();
  });

  it("raw: 10^9 frames of one pixel are refused before they are counted out", async () => {
    const folder = await scratchFolder([]);
    const path = join(folder, "take");
    await writeFile(path, "");
    await truncate(path, 1e9);
    const raw = parseRawLayout("1x1:u8");
    await expect(openFrames(path, raw ? { raw } : {})).rejects.toMatchObject({ code: "corrupt-frame" });
    expect(asked).toBeLessThan(1000);
  });

  it.each(["4x4:u8@999999999999999", "999999999x999999999:f32le", "4x4:u8@300"])(
    "raw: %s is refused",
    async (text) => {
      const raw = parseRawLayout(text);
      expect(raw).not.toBeNull();
      await expect(opened(Buffer.alloc(300), { raw })).rejects.toMatchObject({ code: "corrupt-frame" });
    },
  );
});

describe("only what is needed is read", () => {
  const [columns, rows, frames] = [200, 100, 5];
  const band = { row: 41, column: 0, rows: 7, columns };

  it.each([
    [1, 7 * 200],
    [100, 7 * 200],
    [5, 7 * 200],
  ])(
    "strips of %i row(s): the rows of the band in one read, beside the directory",
    async (perStrip, wanted) => {
      const content = stripped(perStrip, false);
      const sequence = await opened(content);
      [asked, largest] = [0, 0];
      const spy = vi.mocked(PositionedFile.prototype.read);
      spy.mockClear();
      const { data } = await sequence.read(3, band);
      expect([...data]).toEqual(
        Array.from({ length: wanted }, (_, i) => (3 + 41 + Math.floor(i / columns) + (i % columns)) & 255),
      );
      const ofSamples = spy.mock.calls.filter(
        ([, length]) => length >= columns && length % columns === 0 && length !== 4 * rows,
      );
      expect(ofSamples.map(([, length]) => length)).toEqual([wanted]);
      // The window on the directory, and the lists of strips.
      expect(asked - wanted).toBeLessThan(512 + 8 * Math.ceil(rows / perStrip) + 64);
      await sequence.close();
    },
  );

  it("strips that lie in another order are each read where they are", async () => {
    const sequence = await opened(stripped(5, true));
    const { data } = await sequence.read(2, band);
    expect([...data]).toEqual(
      Array.from({ length: 7 * columns }, (_, i) => (2 + 41 + Math.floor(i / columns) + (i % columns)) & 255),
    );
    await sequence.close();
  });

  it.each(["npy", "y4m", "raw"])("%s: the rows of the band", async (kind) => {
    const samples = Buffer.alloc(columns * rows, 9);
    const head = `{'descr': '|u1', 'fortran_order': False, 'shape': (${frames}, ${rows}, ${columns}), }`;
    const npyHead = Buffer.concat([Buffer.from("\x93NUMPY\x01\x00\0\0", "latin1"), Buffer.from(head)]);
    npyHead.writeUInt16LE(head.length, 8);
    const all = (between: string) =>
      Array.from({ length: frames }, () => Buffer.concat([Buffer.from(between), samples]));
    const content = {
      npy: [npyHead, ...all("")],
      y4m: [Buffer.from(`YUV4MPEG2 W${columns} H${rows} Cmono\n`), ...all("FRAME\n")],
      raw: all(""),
    }[kind as "npy" | "y4m" | "raw"];
    const raw = kind === "raw" ? parseRawLayout(`${columns}x${rows}:u8`) : null;
    const sequence = await opened(Buffer.concat(content), raw ? { raw } : {});
    asked = 0;
    await sequence.read(4, band);
    expect(asked).toBe(7 * columns + (kind === "y4m" ? "FRAME\n".length : 0));
    await sequence.close();
  });

  /** A classic stack: strips of some rows one behind the other, or from the bottom up; directories behind the samples. */
  function stripped(perStrip: number, upsideDown: boolean): Buffer {
    const strips = Math.ceil(rows / perStrip);
    const parts: Buffer[] = [Buffer.from("II*\0\0\0\0\0", "latin1")];
    let at = 8;
    const put = (part: Buffer) => {
      parts.push(part);
      at += part.length;
      return at - part.length;
    };
    let linkAt = 4;
    let linkIn = parts[0];
    for (let frame = 0; frame < frames; frame++) {
      const offsets: number[] = [];
      const order = Array.from({ length: strips }, (_, k) => (upsideDown ? strips - 1 - k : k));
      for (const strip of order) {
        const height = Math.min(perStrip, rows - strip * perStrip);
        const pixel = (i: number) => frame + strip * perStrip + Math.floor(i / columns) + (i % columns);
        offsets[strip] = put(Buffer.from(Array.from({ length: height * columns }, (_, i) => pixel(i) & 255)));
      }
      const lists = Buffer.alloc(8 * strips);
      offsets.forEach((offset, k) => {
        lists.writeUInt32LE(offset, 4 * k);
        const height = Math.min(perStrip, rows - k * perStrip);
        lists.writeUInt32LE(height * columns, 4 * (strips + k));
      });
      const listsAt = put(lists);
      const entries: [number, number, number][] = [
        [256, 1, columns],
        [257, 1, rows],
        [258, 1, 8],
        [259, 1, 1],
        [262, 1, 1],
        [273, strips, strips === 1 ? offsets[0] : listsAt],
        [277, 1, 1],
        [278, 1, perStrip],
        [279, strips, strips === 1 ? rows * columns : listsAt + 4 * strips],
      ];
      const directory = Buffer.alloc(2 + 12 * entries.length + 4);
      directory.writeUInt16LE(entries.length, 0);
      entries.forEach(([tag, count, value], k) => {
        directory.writeUInt16LE(tag, 2 + 12 * k);
        directory.writeUInt16LE(4, 4 + 12 * k);
        directory.writeUInt32LE(count, 6 + 12 * k);
        directory.writeUInt32LE(value, 10 + 12 * k);
      });
      linkIn.writeUInt32LE(at, linkAt);
      put(directory);
      [linkIn, linkAt] = [directory, directory.length - 4];
    }
    return Buffer.concat(parts);
  }
});
