import { execFileSync } from "node:child_process";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { hasFfmpeg } from "../../../frame-loader/test/support/clips.js";
import { findInTake } from "../../src/search/find-in-take.js";
import { seededNormal, step, temporaryFolder } from "../render-take.js";

const [ROWS, COLUMNS, FRAMES] = [160, 320, 1200];
const [FIRST, SPEED, WIDE] = [700, 16 / 3, 12];
const LAST = FIRST + Math.ceil((COLUMNS + WIDE) / SPEED);

/** A stripe that passes over a glaze that is mottled and at rest, with noise. */
function stripeOverGlaze(): Uint8Array {
  const normal = seededNormal(3);
  const noise = Float32Array.from({ length: 100_003 }, () => 2 * normal());
  const glaze = Float32Array.from({ length: ROWS * COLUMNS }, (_, i) => {
    const [row, column] = [Math.floor(i / COLUMNS), i % COLUMNS];
    return 60 + 5 * Math.sin(row / 1.7 + 3 * Math.sin(column / 5)) + 5 * Math.sin(column / 2.3 + row / 9);
  });
  const samples = new Uint8Array(FRAMES * glaze.length);
  for (let frame = 0, k = 0, n = 0; frame < FRAMES; frame++)
    for (let i = 0; i < glaze.length; i++, k++, n = (n + 1 + (k % 3)) % noise.length) {
      const behind = (frame - FIRST) * SPEED - (i % COLUMNS);
      samples[k] = Math.round(glaze[i] + 40 * (step(-behind) - step(WIDE - behind)) + noise[n]);
    }
  return samples;
}

describe.skipIf(!hasFfmpeg && process.env.FRONTPACE_REQUIRE_ALL !== "1")(
  "findInTake of a clip (needs ffmpeg)",
  () => {
    it.each([
      ["mpeg4", ["-q:v", "3"]],
      ["libx264", ["-crf", "20"]],
    ])(
      "of %s shows a stripe that passes: key frames change the picture a little for good, and hid it",
      async (codec, quality) => {
        const root = await temporaryFolder();
        const raw = join(root, "spark.bin");
        await writeFile(raw, stripeOverGlaze());
        const clip = join(root, "spark.mp4");
        const input = ["-f", "rawvideo", "-pix_fmt", "gray", "-s", `${COLUMNS}x${ROWS}`, "-i", raw];
        execFileSync("ffmpeg", [
          "-v",
          "error",
          ...input,
          "-c:v",
          codec,
          ...quality,
          "-pix_fmt",
          "yuv420p",
          clip,
        ]);
        const { events } = await findInTake(clip);
        const [strongest] = events.events;
        expect(strongest.kind).toBe("passes");
        // The ends are told by samples at worst.
        expect(Math.abs(strongest.firstFrame - FIRST)).toBeLessThan(32);
        expect(Math.abs(strongest.lastFrame - LAST)).toBeLessThan(32);
      },
    );
  },
);
