/** Renders the invented long take of fixtures/, 2,400 frames in one file of samples without a header, from its seed: `pnpm
 *  fixtures`. A crack runs through it, and a grain of dust falls past the lens before. */
import { mkdir, rm, writeFile } from "node:fs/promises";
import { edgeTable } from "./accuracy/edge-table.js";
import { randomFrom } from "./random.js";

const SEED = 104;
const FRAMES = 2400;
const [ROWS, COLUMNS] = [8, 40];
const CRACK = { columnAtZero: -1651.2, pixelsPerFrame: 1.1, blurPixels: 0.9, step: 55 };
const DUST = { firstFrame: 620, lastFrame: 699, column: 27, radiusPixels: 1.6, step: -24 };
const [BEFORE, NOISE] = [70, 2];
const TAKE = {
  rateHz: 500_000,
  rateUncertaintyHz: 25,
  metresPerPixel: 0.9e-3,
  metresPerPixelUncertainty: 2.7e-6,
};
const EXPOSURE_FRACTION = 0.4;

const random = randomFrom(SEED);
const glaze = Float64Array.from({ length: ROWS * COLUMNS }, () => 1 + 0.05 * random.normal());
const edge = edgeTable(CRACK.blurPixels, CRACK.pixelsPerFrame * EXPOSURE_FRACTION);
const samples = new Uint8Array(FRAMES * ROWS * COLUMNS);
for (let frame = 0, k = 0; frame < FRAMES; frame++) {
  const front = CRACK.columnAtZero + CRACK.pixelsPerFrame * frame;
  const fallen = (frame - DUST.firstFrame) / (DUST.lastFrame - DUST.firstFrame);
  const reach = 3 * DUST.radiusPixels;
  const dustRow = -reach + fallen * (ROWS - 1 + 2 * reach);
  for (let row = 0; row < ROWS; row++)
    for (let column = 0; column < COLUMNS; column++, k++) {
      const away = (row - dustRow) ** 2 + (column - DUST.column) ** 2;
      const dust = fallen >= 0 && fallen <= 1 ? DUST.step * Math.exp(-away / 2 / DUST.radiusPixels ** 2) : 0;
      const level = (BEFORE + CRACK.step * edge.value(front - column)) * glaze[row * COLUMNS + column] + dust;
      samples[k] = Math.max(0, Math.min(255, Math.round(level + NOISE * random.normal())));
    }
}

const folder = new URL("../fixtures/long-take/", import.meta.url);
await rm(folder, { recursive: true, force: true });
await mkdir(folder, { recursive: true });
await writeFile(new URL("tile.bin", folder), samples);
await writeJson("tile.take.json", {
  format: "frontpace-take",
  version: 1,
  raw: `${COLUMNS}x${ROWS}:u8`,
  ...TAKE,
  exposureSeconds: EXPOSURE_FRACTION / TAKE.rateHz,
  notes: `Invented: a crack runs through a tile after a grain of dust fell past the lens. Rendered from seed ${SEED}; truth.json says what was put in.`,
});
// The scale and rate that really held lie within their stated uncertainty of the stated ones.
const metresPerPixel = TAKE.metresPerPixel + TAKE.metresPerPixelUncertainty * random.normal();
const rateHz = TAKE.rateHz + TAKE.rateUncertaintyHz * random.normal();
await writeJson("truth.json", {
  invented: true,
  speedMetresPerSecond: CRACK.pixelsPerFrame * rateHz * metresPerPixel,
  pixelsPerFrame: CRACK.pixelsPerFrame,
  columnAtFrameZero: CRACK.columnAtZero,
  framesOnPicture: [
    -CRACK.columnAtZero / CRACK.pixelsPerFrame,
    (COLUMNS - 1 - CRACK.columnAtZero) / CRACK.pixelsPerFrame,
  ],
  blurPixels: CRACK.blurPixels,
  dust: { firstFrame: DUST.firstFrame, lastFrame: DUST.lastFrame },
  rateHz,
  metresPerPixel,
  noise: NOISE,
});

async function writeJson(name: string, value: unknown): Promise<void> {
  await writeFile(new URL(name, folder), `${JSON.stringify(value, null, 2)}\n`);
}
