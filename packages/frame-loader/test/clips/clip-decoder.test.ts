import { chmodSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { ClipDecoder, type ClipSource } from "../../src/clips/clip-decoder.js";
import { scratchFolder } from "../support/scratchFolder.js";

const SOURCE: ClipSource = {
  path: "clip.avi",
  name: "clip.avi",
  form: "avi",
  rows: 2,
  columns: 2,
  pixelFormat: "gray",
  samples: {
    bitDepth: 8,
    colour: false,
    bits: 8,
    filters: "format=gray",
    hasChroma: false,
  },
  index: {
    count: 1,
    ticks: Float64Array.of(0),
    statedTicks: Float64Array.of(0),
    keyTicks: [0],
    isShort: false,
  },
  secondsPerTick: 1,
  passthrough: [],
};

const INFO = "[Parsed_showinfo_0] [info] n: 0 pts: 0 pts_time:0 fmt:gray sar:1/1 s:2x2 i:P iskey:1 type:I";

describe.skipIf(process.platform === "win32")("ClipDecoder (needs a shell)", () => {
  afterEach(() => vi.unstubAllEnvs());

  /** A decoder that gives a frame first and says afterwards what it was. */
  async function decoderThatSays(...lines: string[]): Promise<ClipDecoder> {
    const folder = await scratchFolder([]);
    const program = join(folder, "ffmpeg");
    writeFileSync(
      program,
      `#!/bin/sh\nprintf abcd\nsleep 0.3\nprintf '%s\\n' ${lines.map((line) => `'${line}'`).join(" ")} >&2\nsleep 0.3\n`,
    );
    chmodSync(program, 0o755);
    vi.stubEnv("PATH", `${folder}${delimiter}${process.env.PATH}`);
    return new ClipDecoder(SOURCE, { row: 0, column: 0, rows: 2, columns: 2 }, 0, null, true);
  }

  it("gives the samples of a frame that is told of after them", async () => {
    const decoder = await decoderThatSays(INFO);
    expect((await decoder.read()).toString()).toBe("abcd");
    await decoder.kill();
  });

  it("refuses a frame whose damage is told of after its samples and together with the word on it", async () => {
    const decoder = await decoderThatSays("[ffv1] [error] slice 1 is damaged", INFO);
    await expect(decoder.read()).rejects.toMatchObject({ code: "corrupt-frame" });
    await decoder.kill();
  });
});
