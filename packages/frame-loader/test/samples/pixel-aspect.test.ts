import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openFrames } from "../../src/index.js";
import { encode, hasFfmpeg, pattern } from "../support/clips.js";
import { scratchFolder } from "../support/scratchFolder.js";

/** What is said of a file of frames. */
async function said(file: string): Promise<string[]> {
  const frames = await openFrames(file);
  await frames.close();
  return frames.warnings.filter(({ code }) => code === "pixel-aspect").map(({ message }) => message);
}

describe("pixels that are not square", () => {
  it.each([
    [" A8:5", 1],
    [" A1:1", 0],
    [" A12:12", 0],
    [" A0:0", 0],
    ["", 0],
  ])("are said of a YUV4MPEG2 file with%s: %i", async (tag, times) => {
    const content = Buffer.from(`YUV4MPEG2 W4 H1 F25:1 Ip${tag} Cmono\nFRAME\nabcd`);
    const folder = await scratchFolder({ "take.y4m": content });
    const messages = await said(join(folder, "take.y4m"));
    expect(messages).toHaveLength(times);
    for (const message of messages) expect(message).toContain("take.y4m states that its pixels are 8:5");
  });

  it.skipIf(!hasFfmpeg)("are said of a clip", async () => {
    const folder = await scratchFolder([]);
    const ffv1 = (sar: string) => ["-vf", `setsar=${sar}`, "-c:v", "ffv1", "take.mkv"];
    const wide = encode(folder, pattern(8), "gray", ffv1("8/5"));
    expect((await said(wide))[0]).toContain("take.mkv states that its pixels are 8:5");
    expect(await said(encode(folder, pattern(8), "gray", ffv1("1/1")))).toEqual([]);
  });
});
