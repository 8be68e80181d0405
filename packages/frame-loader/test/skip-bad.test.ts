import { createHash } from "node:crypto";
import { mkdir, readFile, symlink, truncate } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openFrames } from "../src/index.js";
import { handPng } from "./support/handPng.js";
import { scratchFolder } from "./support/scratchFolder.js";

/** Samples that do not compress, so that a file cut at 60 % loses rows. */
const still = (value: number) =>
  handPng({
    columns: 64,
    rows: 64,
    bits: 8,
    colourType: 0,
    samples: Uint8Array.from({ length: 4096 }, (_, i) => (i === 0 ? value : (i * i * 40_503) >> 7)),
  });
const empty = new Uint8Array();
const text = Buffer.from("these are not pixels\n");
const cut = (value: number) => still(value).subarray(0, Math.floor(still(value).length * 0.6));

/** Stills t0.png, t1.png, … of which some are replaced. */
const folderOf = (count: number, replaced: Readonly<Record<number, Uint8Array>>, names = (i: number) => i) =>
  scratchFolder(
    Object.fromEntries(
      Array.from({ length: count }, (_, i) => [`t${names(i)}.png`, replaced[i] ?? still(i)]),
    ),
  );

const codes = (warnings: readonly { code: string }[]) => warnings.map(({ code }) => code);

describe("skipBad", () => {
  it("leaves out what is empty, what is no picture and what shows its damage only when decoded", async () => {
    const folder = await folderOf(8, { 1: empty, 4: text, 5: cut(5) });
    const sequence = await openFrames(folder, { skipBad: true });
    expect(sequence.numbers).toEqual([0, 2, 3, 6, 7]);
    const read: [number, number][] = [];
    for await (const { number, frame } of sequence.frames()) read.push([number, frame.get(0, 0)]);
    expect(read).toEqual([0, 2, 3, 6, 7].map((number) => [number, number]));

    expect(codes(sequence.warnings)).toEqual(["frames-skipped"]);
    const [{ message }] = sequence.warnings;
    expect(message).toMatch(
      /^frames 1, 4 to 5 are left out \(t1\.png is empty \(0 bytes\), t4\.png is not a PNG/,
    );
    expect(message).toMatch(/t5\.png is damaged or cut short \(.+\)\): the gap in time is kept/);
  });

  it("is off by default: damage is an error, at opening or when it is reached", async () => {
    await expect(openFrames(await folderOf(4, { 1: empty }))).rejects.toMatchObject({
      code: "corrupt-frame",
    });
    const late = await openFrames(await folderOf(4, { 1: cut(1) }));
    await expect(late.read(1)).rejects.toMatchObject({ code: "corrupt-frame", file: "t1.png" });
    expect(late.warnings).toEqual([]);
  });

  it("warns of nothing where nothing is damaged, and gives the same frames and hash", async () => {
    const folder = await folderOf(4, {});
    const [plain, checked] = [await openFrames(folder), await openFrames(folder, { skipBad: true })];
    expect(checked.warnings).toEqual([]);
    expect(checked.numbers).toEqual(plain.numbers);
    expect(await checked.hash()).toBe(await plain.hash());
  });

  it("hashes the frames that are left, under their numbers", async () => {
    const folder = await folderOf(4, { 2: cut(2) });
    const expected = createHash("sha256");
    for (const number of [0, 1, 3]) {
      const head = Buffer.alloc(8);
      head.writeBigInt64BE(BigInt(number));
      expected.update(head).update(await readFile(join(folder, `t${number}.png`)));
    }
    const sequence = await openFrames(folder, { skipBad: true });
    expect(await sequence.hash()).toBe(expected.digest("hex"));
  });

  it("does not call a skipped frame missing too, nor a missing one skipped", async () => {
    // Numbers 0 1 2 5 6 7 8 9: 3 and 4 are missing, 5 and 8 damaged.
    const folder = await folderOf(8, { 3: cut(3), 6: empty }, (i) => (i < 3 ? i : i + 2));
    const sequence = await openFrames(folder, { skipBad: true });
    expect(sequence.numbers).toEqual([0, 1, 2, 6, 7, 9]);
    const words = (range?: { start?: number; end?: number }) =>
      sequence.warningsWithin(range).map(({ message }) => message.split(/ \(t|:/)[0]);
    expect(words()).toEqual(["2 frames are missing (3 to 4)", "frames 5, 8 are left out"]);
    expect(words()).toEqual(sequence.warnings.map(({ message }) => message.split(/ \(t|:/)[0]));
    expect(words({ start: 3 })).toEqual(["frames 5, 8 are left out"]);
    expect(words({ start: 4 })).toEqual(["frame 8 is left out"]);
    expect(words({ end: 2 })).toEqual([]);
  });

  it("counts with the numbers of all files where every n-th frame was exported", async () => {
    // Without the damaged still the numbers would rise in multiples of 2 and be taken as frame numbers.
    const folder = await folderOf(3, { 1: cut(1) }, (i) => i);
    const sequence = await openFrames(folder, { skipBad: true, frameStep: 2 });
    expect(sequence.numbers).toEqual([0, 4]);
    expect(codes(sequence.warnings)).toEqual(["sub-sampled", "frames-skipped"]);
    expect(sequence.warnings[1].message).toContain("frame 2 is left out");
  });

  it("leaves out a dead link and a folder named like a still", async () => {
    const folder = await folderOf(4, {});
    await symlink(join(folder, "gone.png"), join(folder, "t4.png"));
    await mkdir(join(folder, "t5.png"));
    const sequence = await openFrames(folder, { skipBad: true });
    expect(sequence.numbers).toEqual([0, 1, 2, 3]);
    expect(sequence.warnings[0].message).toMatch(/t4\.png could not be read \(ENOENT\), t5\.png is a folder/);
  });

  it.each([
    ["half of the stills", 4, { 0: empty, 2: cut(2) }, null],
    ["more than half", 5, { 0: empty, 2: cut(2), 3: text }, "3 of 5 stills are damaged"],
    ["all, at the header", 2, { 0: empty, 1: text }, "all 2 stills are damaged"],
    ["all, when decoded", 2, { 0: cut(0), 1: cut(1) }, "all 2 stills are damaged"],
  ])("with %s bad", async (_what, count, replaced, words) => {
    const opening = openFrames(await folderOf(count, replaced), { skipBad: true });
    if (words === null) expect((await opening).numbers).toEqual([1, 3]);
    else
      await expect(opening).rejects.toMatchObject({
        code: "too-many-bad-frames",
        message: expect.stringContaining(words),
      });
  });

  it("still refuses stills that differ in size or kind: these are sound", async () => {
    const other = handPng({ columns: 2, rows: 2, bits: 8, colourType: 0, samples: new Uint8Array(4) });
    const opening = openFrames(await folderOf(4, { 1: other, 2: empty }), { skipBad: true });
    await expect(opening).rejects.toMatchObject({ code: "mixed-frames", file: "t1.png" });
  });

  it("reports each still checked, and stops with the abort reason", async () => {
    const folder = await folderOf(4, { 1: cut(1) });
    const seen: unknown[] = [];
    await openFrames(folder, { skipBad: true, onProgress: (progress) => seen.push(progress) });
    expect(seen).toEqual([1, 2, 3, 4].map((done) => ({ stage: "checking", done, total: 4 })));
    const controller = new AbortController();
    const reason = new Error("called off");
    const opening = openFrames(folder, {
      skipBad: true,
      signal: controller.signal,
      onProgress: () => controller.abort(reason),
    });
    await expect(opening).rejects.toBe(reason);
  });

  it("reads a still that is damaged after opening as an error all the same", async () => {
    const folder = await folderOf(4, {});
    const sequence = await openFrames(folder, { skipBad: true });
    await truncate(join(folder, "t1.png"), 60);
    await expect(sequence.read(1)).rejects.toMatchObject({ code: "changed-frame" });
  });
});
