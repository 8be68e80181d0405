/** Renders the invented day of takes, fixtures/quench-day, from its seeds: `pnpm fixtures`. Beside takes of two quenches it holds one in which nothing
 *  runs and one with a damaged still; truth.json says what was put in. */
import { mkdir, rm, stat, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { crossingScene } from "./bench/take/scene.js";
import { writeStills } from "./bench/take/write-stills.js";

const RATE_HZ = 100_000;
const METRES_PER_PIXEL = 0.2e-3;
/** px a frame; null: nothing runs. */
const TAKES: Readonly<Record<string, number | null>> = {
  "cold-water/tile-1": 2.01,
  "cold-water/tile-2": 1.995,
  "cold-water/tile-3": 2.005,
  "cold-water/tile-4": null,
  "warm-oil/tile-5": 2.4,
  "warm-oil/tile-6": 2.395,
};
const DAMAGED = "warm-oil/tile-6";

const day = fileURLToPath(new URL("../fixtures/quench-day", import.meta.url));
await rm(day, { recursive: true, force: true });
for (const [k, [name, pixelsPerFrame]] of Object.entries(TAKES).entries()) {
  const take = join(day, name);
  await mkdir(join(take, ".."), { recursive: true });
  const still = pixelsPerFrame === null;
  const scene = {
    ...crossingScene(30, 16, 96, 8),
    pixelsPerFrame: pixelsPerFrame ?? 0,
    columnAtZero: still ? -50 : 12,
    seed: 700 + k,
  };
  await writeStills(take, scene, "png");
  if (name !== DAMAGED) continue;
  const frame = join(take, "tile_00010.png");
  await truncate(frame, Math.floor((await stat(frame)).size / 2));
}
await writeJson("take.json", {
  format: "frontpace-take",
  version: 1,
  rateHz: RATE_HZ,
  rateUncertaintyHz: 10,
  metresPerPixel: METRES_PER_PIXEL,
  metresPerPixelUncertainty: 1e-6,
  notes:
    "Invented: tiles split in two quench tests. Rendered from seeds 700 to 705; truth.json says what was put in.",
});
await writeJson("truth.json", {
  invented: true,
  speedMetresPerSecond: Object.fromEntries(
    Object.entries(TAKES).map(([name, speed]) => [
      name,
      speed === null ? null : Number((speed * RATE_HZ * METRES_PER_PIXEL).toFixed(6)),
    ]),
  ),
  damaged: DAMAGED,
});

async function writeJson(name: string, value: unknown): Promise<void> {
  await writeFile(join(day, name), `${JSON.stringify(value, null, 2)}\n`);
}
