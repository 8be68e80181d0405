import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { type FrameSequence, openFrames } from "../src/index.js";
import { clipFolder, count, encode, hasFfmpeg, pattern } from "./support/clips.js";
import { containerFixtures } from "./support/containerFixtures.js";
import { scratchFolder } from "./support/scratchFolder.js";

/** Writes the frames of a range as files into a folder of their own. */
async function asFolder(sequence: FrameSequence, range: { start: number; end: number }) {
  const folder = await mkdtemp(join(tmpdir(), "stills-"));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const names: string[] = [];
  for await (const { name, number, bytes } of sequence.stills(range)) {
    expect(number).toBe(sequence.numbers[range.start + names.length]);
    names.push(name);
    await writeFile(join(folder, name), bytes, { flag: "wx" });
  }
  return { folder, names };
}

describe("stills of a file of frames", () => {
  it.each(containerFixtures)("$name: bit for bit what the file gives", async ({ path, options }) => {
    const sequence = await openFrames(path, options);
    const range = { start: 1, end: sequence.numbers.length };
    const { folder } = await asFolder(sequence, range);
    const copy = await openFrames(folder);
    expect(copy.numbers).toEqual(sequence.numbers.slice(1));
    expect(copy).toMatchObject({
      rows: sequence.rows,
      columns: sequence.columns,
      bitDepth: sequence.bitDepth,
      colour: sequence.colour,
    });
    for (const index of copy.numbers.keys()) {
      const [copied, stored] = [await copy.read(index), await sequence.read(index + 1)];
      expect(copied.data.constructor).toBe(stored.data.constructor);
      expect(Array.from(copied.data)).toEqual(Array.from(stored.data));
    }
    await sequence.close();
  });

  it("keep the frame numbers of a declared step, and stored samples where a transfer function is undone", async () => {
    const folder = await scratchFolder({
      "ramp.bin": Uint8Array.from({ length: 4 * 256 }, (_, i) => i % 256),
    });
    const raw = { columns: 16, rows: 16, sample: "u8" } as const;
    const sequence = await openFrames(join(folder, "ramp.bin"), { raw, frameStep: 10, transfer: "srgb" });
    const { folder: copied, names } = await asFolder(sequence, { start: 1, end: 4 });
    expect(names).toEqual(["frame_10.png", "frame_20.png", "frame_30.png"]);
    const copy = await openFrames(copied, { frameStep: 10 });
    expect(copy.numbers).toEqual([10, 20, 30]);
    expect(Array.from((await copy.read(0)).data)).toEqual(Array.from({ length: 256 }, (_, i) => i));
    await sequence.close();
  });
});

// The clip is made and read with ffmpeg: without it there is none.
describe.skipIf(!hasFfmpeg && process.env.FRONTPACE_REQUIRE_ALL !== "1")("stills of a clip", () => {
  it("hold its luma as it was put in", async () => {
    const scratch = clipFolder();
    onTestFinished(() => rm(scratch, { recursive: true, force: true }));
    const frames = pattern(8);
    const sequence = await openFrames(encode(scratch, frames, "gray", ["-c:v", "ffv1", "clip.mkv"]));
    const { folder } = await asFolder(sequence, { start: count - 3, end: count });
    const copy = await openFrames(folder);
    expect(copy.numbers).toEqual([count - 3, count - 2, count - 1]);
    for (const i of [0, 1, 2])
      expect(Array.from((await copy.read(i)).data)).toEqual(Array.from(frames[count - 3 + i]));
    await sequence.close();
  });
});

describe("stills of a folder", () => {
  const range = (a: number, b: number) => Array.from({ length: b - a + 1 }, (_, i) => a + i);

  it("are the files as they are", async () => {
    const folder = await scratchFolder(range(0, 9).map((number) => `t_${number}.png`));
    const sequence = await openFrames(folder);
    const { folder: copied, names } = await asFolder(sequence, { start: 3, end: 6 });
    expect(names).toEqual(["t_3.png", "t_4.png", "t_5.png"]);
    expect(await readFile(join(copied, "t_4.png"))).toEqual(await readFile(join(folder, "t_4.png")));
    expect((await openFrames(copied)).numbers).toEqual([3, 4, 5]);
  });

  it.each([
    // Of all names only some have the "-": a sign. Of the first ones all have it: a separator.
    ["a sign that all of them share", range(-5, 5).map((n) => `tile${n < 0 ? "" : "0"}${n}.png`), {}, 0, 4],
    // Over the whole folder the second group varies most; of the first stills only the first group does.
    ["another group of digits", range(0, 20).map((n) => `x${n}_c${n % 4}.png`), {}, 5, 8],
    // Numbers that count stills, of which those taken happen to rise in multiples of the step.
    ["a declared step", ["n1.png", "n2.png", "n3.png", "n13.png"], { frameStep: 10 }, 2, 4],
  ])(
    "are named by number where a folder of them alone would show %s",
    async (_, names, options, start, end) => {
      const sequence = await openFrames(await scratchFolder(names), options);
      const { folder, names: made } = await asFolder(sequence, { start, end });
      const numbers = sequence.numbers.slice(start, end);
      expect((await openFrames(folder, options)).numbers).toEqual(numbers);
      expect(made).toHaveLength(numbers.length);
      for (const name of made) expect(name).toMatch(/^frame_-?\d+\.png$/);
    },
  );

  it("are refused where a file changed, and stop when called off", async () => {
    const folder = await scratchFolder(range(0, 3).map((number) => `t_${number}.png`));
    const sequence = await openFrames(folder);
    await writeFile(join(folder, "t_2.png"), "other");
    await expect(asFolder(sequence, { start: 1, end: 4 })).rejects.toMatchObject({ code: "changed-frame" });
    const reason = new Error("enough");
    const stopped = sequence.stills({}, { signal: AbortSignal.abort(reason) });
    await expect(stopped[Symbol.asyncIterator]().next()).rejects.toBe(reason);
    expect(() => sequence.stills({ start: 2, end: 9 })).toThrow(RangeError);
  });
});
