import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { type FrameSequence, openFrames } from "../../src/index.js";
import { clipFolder, columns, count, encode, ffmpeg, hasFfmpeg, pattern, rows } from "../support/clips.js";
import { expectSamples } from "../support/samples.js";
import { scratchFolder } from "../support/scratchFolder.js";

const isSkipped = !hasFfmpeg && process.env.FRONTPACE_REQUIRE_ALL !== "1";
const frames8 = pattern(8);
/** Lossless, with frames predicted from those before and behind them. */
const LOSSLESS = [
  ...["-c:v", "libx265", "-tag:v", "hvc1", "-x265-params"],
  "log-level=error:lossless=1:bframes=3:b-adapt=0:keyint=12:scenecut=0:open-gop=0:pools=1:frame-threads=1",
];
const H264 = ["-c:v", "libx264", "-qp", "1", "-bf", "3", "-g", "12", "-x264-params", "scenecut=0:b-adapt=0"];
const open265 = LOSSLESS.map((option) => option.replace("open-gop=0", "open-gop=1"));
/** 5000 frames a second. */
const DENSE = ["-vf", "settb=1/5000,setpts=N", "-r", "5000"];
const FFV1 = ["-c:v", "ffv1", "-level", "3"];

async function open(path: string): Promise<FrameSequence> {
  const sequence = await openFrames(path);
  onTestFinished(() => sequence.close());
  return sequence;
}

/** The luma of all frames as ffmpeg gives it when it reads from end to end. */
function lumaOf(path: string): Buffer {
  const options = ["-vf", "extractplanes=y", "-fps_mode", "passthrough", "-f", "rawvideo", "-"];
  return execFileSync("ffmpeg", ["-v", "error", "-i", path, ...options]);
}

const codes = ({ warnings }: FrameSequence) => warnings.map(({ code }) => code);

/** Programs that this process started and that have not gone, by their number. Linux lists them as files; the tests that
 *  count them run there alone. */
function children(): string[] {
  return readdirSync("/proc").filter((pid) => {
    try {
      const [, name, parent] = /\((.*)\) \S (\d+)/.exec(readFileSync(`/proc/${pid}/stat`, "utf8")) ?? [];
      return Number(parent) === process.pid && /^ff/.test(name);
    } catch {
      return false;
    }
  });
}

async function expectGone(): Promise<void> {
  await expect.poll(children, { timeout: 2000 }).toEqual([]);
}

// Clips are read through ffmpeg: without it there is nothing to read them with.
describe.skipIf(isSkipped)("clips", () => {
  let folder = "";
  let mp4 = "";
  beforeAll(() => {
    folder = clipFolder();
    mp4 = encode(folder, frames8, "yuv420p", [...LOSSLESS, "-movflags", "+faststart", "b.mp4"]);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("the lossless MP4 of these tests holds frames of all three kinds", () => {
    const types = execFileSync(
      "ffprobe",
      ["-v", "error", "-show_entries", "frame=pict_type", "-of", "csv=p=0", mp4],
      { encoding: "utf8" },
    );
    for (const type of ["I", "P", "B"]) expect(types).toContain(type);
  });

  it.each([
    ["H.265 with B-frames and open groups in MKV", 8, "yuv420p", [...open265, "open.mkv"]],
    ["H.265 of 10 bits in MOV", 10, "yuv420p10le", ["-color_range", "tv", ...LOSSLESS, "ten.mov"]],
    ["grey samples uncompressed in AVI", 8, "gray", ["-c:v", "rawvideo", "-vtag", "Y800", "raw.avi"]],
    ["grey FFV1 of 16 bits in MKV", 16, "gray16le", [...FFV1, "-g", "1", "sixteen.mkv"]],
    [
      "grey PNG of 16 bits, high byte first, in MOV",
      16,
      "gray16le",
      ["-c:v", "png", "-pix_fmt", "gray16be", "png.mov"],
    ],
    ["more frames than milliseconds in MKV, which counts these", 8, "gray", [...DENSE, ...FFV1, "dense.mkv"]],
  ] as const)("%s: samples are those encoded, in order and at random", async (_, bits, kind, options) => {
    const expected = pattern(bits);
    const sequence = await open(encode(folder, expected, kind, options));
    expect({ count: sequence.numbers.length, rows: sequence.rows, columns: sequence.columns }).toEqual({
      ...{ count, rows, columns },
    });
    expect(sequence.bitDepth).toBe(bits === 8 ? 8 : 16);
    for await (const { index, frame } of sequence.frames()) expectSamples(frame, expected[index]);
    for (const index of [29, 5]) expectSamples(await sequence.read(index), expected[index]);
    const ofKind = kind.startsWith("yuv") ? ["lossy-clip", "limited-range"] : [];
    expect(codes(sequence)).toEqual(["playback-rate", ...ofKind]);
  });

  it("a clip gives the same frames in MP4, MOV, AVI and MKV, and those of a decoder that reads it through", async () => {
    const first = encode(folder, frames8, "yuv420p", [...H264, "h264.mp4"]);
    const stored = lumaOf(first);
    expect(stored.length).toBe(count * rows * columns);
    for (const name of ["h264.mp4", "h264.mov", "h264.avi", "h264.mkv"]) {
      const path = name === "h264.mp4" ? first : ffmpeg(folder, ["-i", "h264.mp4", "-c", "copy", name]);
      const sequence = await open(path);
      expect(sequence.numbers.length).toBe(count);
      const frameAt = (index: number) =>
        Uint8Array.from(stored.subarray(index * rows * columns, (index + 1) * rows * columns));
      for await (const { index, frame } of sequence.frames()) expectSamples(frame, frameAt(index));
      expectSamples(await sequence.read(29), frameAt(29));
    }
  });

  it("a frame far behind the one before is read as it is where key frames are whole only some frames on", async () => {
    const refreshed = "intra-refresh=1:keyint=12:bframes=0:scenecut=0";
    const options = ["-c:v", "libx264", "-qp", "0", "-x264-params", refreshed, "refreshed.mp4"];
    const sequence = await open(encode(folder, frames8, "yuv420p", options));
    for (const index of [39, 26, 13, 32]) expectSamples(await sequence.read(index), frames8[index]);
  });

  it("colour of 16 bits is read with either byte first, and without its transparency", async () => {
    const values = Uint16Array.from({ length: 4 * rows * columns }, (_, i) => (i * 40_503) % 65_536);
    writeFileSync(join(folder, "rgba.raw"), values);
    const input = ["-f", "rawvideo", "-pix_fmt", "rgba64le", "-s", `${columns}x${rows}`, "-i", "rgba.raw"];
    for (const pixelFormat of ["rgba64be", "rgb48be"]) {
      const path = ffmpeg(folder, [...input, "-c:v", "png", "-pix_fmt", pixelFormat, `${pixelFormat}.mov`]);
      const luma = Float32Array.from(
        { length: rows * columns },
        (_, i) => 0.2126 * values[4 * i] + 0.7152 * values[4 * i + 1] + 0.0722 * values[4 * i + 2],
      );
      expectSamples(await (await open(path)).read(0), luma);
    }
  });

  it("the rate of playback is named, and a region is that part of the frame", async () => {
    const sequence = await open(mp4);
    const said = sequence.warnings.find(({ code }) => code === "playback-rate")?.message;
    expect(said).toMatch(/ 30 frames\/s .*not used/);
    const part = await sequence.read(26, { row: 5, column: 7, rows: 11, columns: 13 });
    expect(part.shape).toEqual([11, 13]);
    const expected = Uint8Array.from({ length: 11 * 13 }, (_, i) => {
      return frames8[26][(5 + Math.floor(i / 13)) * columns + 7 + (i % 13)];
    });
    expectSamples(part, expected);
  });

  it("colour becomes luminance of the stored values", async () => {
    const colour = ffmpeg(folder, [
      "-i",
      "b.mp4",
      "-frames:v",
      "2",
      "-pix_fmt",
      "bgr24",
      "-c:v",
      "rawvideo",
      "rgb.avi",
    ]);
    const stored = execFileSync("ffmpeg", [
      "-v",
      "error",
      "-i",
      colour,
      "-pix_fmt",
      "rgb24",
      "-f",
      "rawvideo",
      "-",
    ]);
    const frame = await (await open(colour)).read(1);
    const [r, g, b] = stored.subarray(3 * (rows * columns + 70));
    expect(frame.get(1, 8)).toBe(Math.fround(0.2126 * r + 0.7152 * g + 0.0722 * b));
  });

  // Child programs are counted in /proc, which Linux alone has.
  it.runIf(process.platform === "linux")("one decoder reads frames in order (needs /proc)", async () => {
    const sequence = await open(mp4);
    const seen = new Set<string>();
    for await (const _ of sequence.frames()) for (const pid of children()) seen.add(pid);
    expect(seen.size).toBe(1);
  });

  it("an edit list cuts frames off, and the first is the first that is shown", async () => {
    const cut = ffmpeg(folder, ["-ss", "0.5", "-i", "b.mp4", "-c", "copy", "cut.mp4"]);
    const sequence = await open(cut);
    const reference = execFileSync("ffmpeg", [
      ...[
        "-v",
        "error",
        "-i",
        cut,
        "-vf",
        "extractplanes=y",
        "-fps_mode",
        "passthrough",
        "-f",
        "rawvideo",
        "-",
      ],
    ]);
    expect(sequence.numbers.length).toBe(reference.length / (rows * columns));
    expect(sequence.numbers.length).toBe(25);
    for (const index of [24, 11]) expectSamples(await sequence.read(index), frames8[15 + index]);
    for await (const { index, frame } of sequence.frames()) expectSamples(frame, frames8[15 + index]);
  });

  it.each([
    ["with a gap", "if(gte(N,20),N+7,N)", LOSSLESS],
    ["with a gap, and two frames at one time", "if(gte(N,20),N+7,if(gte(N,9),N-1,N))", FFV1],
  ])("variable rate is said, and every frame comes once: %s", async (_, places, codec) => {
    const times = `setpts='(${places})/30/TB'`;
    const path = encode(folder, frames8, "yuv420p", [
      ...["-vf", times, "-fps_mode", "passthrough", ...codec],
      "vfr.mkv",
    ]);
    const sequence = await open(path);
    expect(codes(sequence)).toContain("variable-rate");
    expect(sequence.numbers).toEqual(Array.from({ length: count }, (_, i) => i));
    for await (const { index, frame } of sequence.frames()) expectSamples(frame, frames8[index]);
  });

  it.each([
    ["h264.mp4", ["-c:v", "libx264", "-flags", "+ildct+ilme", "-vf", "setfield=tff"]],
    ["mpeg2.mkv", ["-c:v", "mpeg2video", "-flags", "+ildct+ilme", "-vf", "setfield=bff"]],
  ])("interlaced frames in %s are refused", async (name, options) => {
    const path = encode(folder, frames8, "yuv420p", [...options, name]);
    await expect(openFrames(path)).rejects.toMatchObject({
      code: "unsupported-frame",
      message: expect.stringContaining("interlaced"),
    });
  });

  it("names with special characters are names", async () => {
    const content = readFileSync(mp4);
    for (const name of ["-i.mp4", "pipe:a%03d.mp4"]) {
      const sequence = await open(join(await scratchFolder({ [name]: content }), name));
      expectSamples(await sequence.read(7), frames8[7]);
    }
  });

  it("a program that is not there is named, with what to install", async () => {
    const path = process.env.PATH;
    process.env.PATH = await scratchFolder([]);
    try {
      await expect(openFrames(mp4)).rejects.toMatchObject({
        code: "decoder-missing",
        message: expect.stringContaining("install ffmpeg"),
      });
    } finally {
      process.env.PATH = path;
    }
  });

  it("a clip cut short gives its first frames unchanged or a clear error", async () => {
    const mkv = ffmpeg(folder, ["-i", "b.mp4", "-c", "copy", "whole.mkv"]);
    const avi = encode(folder, frames8, "gray", [...FFV1, "-g", "5", "whole.avi"]);
    let state = 11;
    const opened: number[] = [];
    for (let cut = 0; cut < 20; cut++) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      const content = readFileSync([mp4, mkv, avi][cut % 3]);
      const length = Math.floor((state / 2 ** 32) * content.length);
      const path = join(folder, `cut${cut}`);
      writeFileSync(path, content.subarray(0, length));
      let sequence: FrameSequence;
      try {
        sequence = await open(path);
      } catch (error) {
        expect((error as { code: string }).code).toMatch(/^(corrupt-frame|unknown-container)$/);
        continue;
      }
      expect(codes(sequence)).toContain("truncated");
      opened.push(sequence.numbers.length);
      const shown = Math.floor((length / content.length) * count);
      expect(sequence.numbers.length).toBeGreaterThan(shown - 16);
      for await (const { index, frame } of sequence.frames()) expectSamples(frame, frames8[index]);
    }
    expect(opened.length).toBeGreaterThan(10);
  });

  it("damage in the middle never gives a wrong frame, and is an error that says why", async () => {
    const path = encode(folder, frames8, "gray", [...FFV1, "-g", "5", "-slicecrc", "1", "damaged.avi"]);
    const content = readFileSync(path);
    const at = Math.floor(content.length / 2);
    content.fill(0x55, at, at + 64);
    writeFileSync(path, content);
    const sequence = await open(path);
    expect(sequence.numbers.length).toBe(count);
    const bad: number[] = [];
    for (let index = 16; index < 26; index++)
      await sequence.read(index).then(
        (frame) => expectSamples(frame, frames8[index]),
        (error) => {
          expect(error).toMatchObject({ code: "corrupt-frame", message: expect.stringContaining("[ffv1") });
          bad.push(index);
        },
      );
    expect(bad.length).toBeGreaterThan(0);
    expect(bad.length).toBeLessThan(6);
  });

  // Child programs are counted in /proc, which Linux alone has.
  it.runIf(process.platform === "linux")(
    "closing, leaving off and aborting leave no program behind (needs /proc)",
    async () => {
      const sequence = await openFrames(mp4);
      await sequence.read(2);
      expect(children().length).toBe(1);
      await sequence.close();
      expect(children()).toEqual([]);

      const other = await open(mp4);
      const controller = new AbortController();
      const reading = async () => {
        for await (const { index } of other.frames({}, undefined, { signal: controller.signal }))
          if (index === 3) controller.abort(new Error("enough"));
      };
      await expect(reading()).rejects.toThrow("enough");
      await expectGone();
      expectSamples(await other.read(30), frames8[30]);

      const opening = openFrames(mp4, { signal: AbortSignal.timeout(15) });
      await expect(opening).rejects.toMatchObject({ name: "TimeoutError" });
      await other.close();
      await expectGone();
    },
  );
});
