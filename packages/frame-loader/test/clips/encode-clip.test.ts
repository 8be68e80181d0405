import { execFile } from "node:child_process";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { encodeClip, openFrames } from "../../src/index.js";
import { hasFfmpeg } from "../support/clips.js";
import { scratchFolder } from "../support/scratchFolder.js";

const run = promisify(execFile);
const [rows, columns, count] = [25, 63, 7];

/** Grey grounds, brighter from one to the next. */
async function* pictures(greys = Array.from({ length: count }, (_, k) => 40 + 20 * k)) {
  for (const grey of greys) yield new Uint8Array(3 * rows * columns).fill(grey);
}
const clip = () => ({ rows, columns, framesPerSecond: 10, pictures: pictures() });

describe.skipIf(!hasFfmpeg)("pictures as a clip (needs ffmpeg)", () => {
  it("are all in it, in even sizes, at the rate of playback, without sound", async () => {
    const file = join(await scratchFolder([]), "clip.mp4");
    await writeFile(file, await encodeClip(clip()));
    const { stdout } = await run("ffprobe", [
      ...["-v", "error", "-count_frames", "-of", "json", "-show_entries"],
      ...["stream=codec_name,width,height,pix_fmt,r_frame_rate,nb_read_frames", file],
    ]);
    expect(JSON.parse(stdout).streams).toEqual([
      {
        codec_name: "h264",
        width: 64,
        height: 26,
        pix_fmt: "yuv420p",
        r_frame_rate: "10/1",
        nb_read_frames: "7",
      },
    ]);
    const sequence = await openFrames(file);
    const shown: number[] = [];
    // Luma of limited range: 16 + 219 grey / 255.
    for await (const { frame } of sequence.frames())
      shown.push(Math.round(((frame.get(9, 9) - 16) * 255) / 219));
    await sequence.close();
    for (const [k, grey] of shown.entries()) expect(Math.abs(grey - (40 + 20 * k))).toBeLessThanOrEqual(2);
  });

  it("give the same bytes again", async () => {
    expect(await encodeClip(clip())).toEqual(await encodeClip(clip()));
  });

  it("pass on an error of the pictures, and a signal", async () => {
    async function* broken() {
      yield* pictures([1]);
      throw new Error("no more");
    }
    await expect(encodeClip({ ...clip(), pictures: broken() })).rejects.toThrow("no more");
    const stop = new AbortController();
    async function* stopped() {
      yield* pictures([1, 2]);
      stop.abort(new Error("stopped"));
      yield* pictures([3, 4]);
    }
    await expect(encodeClip({ ...clip(), pictures: stopped() }, stop.signal)).rejects.toThrow("stopped");
  });

  it("that it cannot encode are an error with its words", async () => {
    await expect(encodeClip({ ...clip(), framesPerSecond: -1 })).rejects.toMatchObject({
      code: "encoder-failed",
      message: expect.stringMatching(/could not write MP4 \(.*-1.*libx264/),
    });
  });
});

it("without ffmpeg on the PATH an error says what to install", async () => {
  const { PATH } = process.env;
  process.env.PATH = await scratchFolder([]);
  try {
    await expect(encodeClip(clip())).rejects.toMatchObject({
      code: "encoder-missing",
      message: expect.stringMatching(/install ffmpeg .*PATH/),
    });
  } finally {
    process.env.PATH = PATH;
  }
});
