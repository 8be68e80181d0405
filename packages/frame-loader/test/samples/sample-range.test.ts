import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { openFrames } from "../../src/index.js";
import { linearLight } from "../../src/samples/transfer.js";

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true });
});

/** One frame of 4 x 1 samples of ten bits. */
async function y4m(samples: readonly number[], tags = ""): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "range-"));
  folders.push(folder);
  const head = `YUV4MPEG2 W${samples.length} H1 F25:1 Ip Cmono10${tags}\nFRAME\n`;
  const file = join(folder, "take.y4m");
  await writeFile(file, Buffer.concat([Buffer.from(head), Buffer.from(Uint16Array.from(samples).buffer)]));
  return file;
}

async function light(file: string, transfer: "srgb" | "linear"): Promise<number[]> {
  const frames = await openFrames(file, { transfer });
  const frame = await frames.read(0);
  await frames.close();
  return Array.from(frame.data);
}

describe("samples of which the file states what is white", () => {
  it("undoes a transfer function between black and white of ten bits, not of the sixteen that hold them", async () => {
    const samples = [0, 200, 512, 1023];
    const expected = samples.map((sample) => 1023 * linearLight("srgb", sample / 1023));
    const seen = await light(await y4m(samples), "srgb");
    seen.forEach((value, k) => {
      expect(Math.abs(value - expected[k])).toBeLessThan(1e-3);
    });
    expect(seen[3]).toBeGreaterThan(1022.9);
  });

  it("counts light from black to white where the range is limited", async () => {
    const samples = [64, 300, 600, 940];
    const expected = samples.map((sample) => 876 * linearLight("srgb", (sample - 64) / 876));
    const seen = await light(await y4m(samples, " XCOLORRANGE=LIMITED"), "srgb");
    seen.forEach((value, k) => {
      expect(Math.abs(value - expected[k])).toBeLessThan(1e-3);
    });
    expect(await light(await y4m(samples, " XCOLORRANGE=LIMITED"), "linear")).toEqual(samples);
  });
});
