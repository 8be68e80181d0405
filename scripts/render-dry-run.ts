/** Renders the invented dry run of fixtures/, 100 frames in one file of samples without a header, from its seed: `pnpm
 *  fixtures`. A card with a slanted edge stands where a tile is to split; a lamp of known frequency burns in the corner. */
import { mkdir, rm, writeFile } from "node:fs/promises";
import { edgeTable } from "./accuracy/edge-table.js";
import { randomFrom } from "./random.js";

const SEED = 208;
const FRAMES = 100;
const [ROWS, COLUMNS] = [32, 96];
const EDGE = { column: 52, slantDegrees: 6, blurPixels: 0.8, step: 70 };
const LAMP = { hertz: 8_530, height: 90, lit: 0.5, columns: 8, rows: 8 };
const [LEVEL, NOISE] = [70, 2];
const TAKE = { rateHz: 100_000, exposureSeconds: 5e-6 };
/** What the camera really ran at. */
const RATE = 100_002.3;

const random = randomFrom(SEED);
const glaze = Float64Array.from({ length: ROWS * COLUMNS }, (_, at) => {
  const [column, row] = [at % COLUMNS, Math.floor(at / COLUMNS)];
  const waves = 0.12 * Math.sin(0.7 * column + 0.2 * row) + 0.08 * Math.sin(0.33 * column - 0.15 * row);
  return 1 + waves + 0.02 * random.normal();
});
const edge = edgeTable(EDGE.blurPixels, 0);
const slant = (EDGE.slantDegrees * Math.PI) / 180;
const samples = new Uint8Array(FRAMES * ROWS * COLUMNS);
for (let frame = 0, k = 0; frame < FRAMES; frame++) {
  const lamp = LAMP.height * meanLight(frame / RATE, TAKE.exposureSeconds);
  for (let row = 0; row < ROWS; row++)
    for (let column = 0; column < COLUMNS; column++, k++) {
      const beyond = (column - EDGE.column) * Math.cos(slant) + (row - (ROWS - 1) / 2) * Math.sin(slant);
      // The card is even; the glaze beside it is not.
      const isCard = Math.abs(beyond) < 18;
      const level = (LEVEL + EDGE.step * edge.value(beyond)) * (isCard ? 1 : glaze[row * COLUMNS + column]);
      const light = column < LAMP.columns && row < LAMP.rows ? lamp : 0;
      samples[k] = Math.max(0, Math.min(255, Math.round(level + light + NOISE * random.normal())));
    }
}

const folder = new URL("../fixtures/dry-run/", import.meta.url);
await rm(folder, { recursive: true, force: true });
await mkdir(folder, { recursive: true });
await writeFile(new URL("tile.bin", folder), samples);
await writeJson("tile.take.json", {
  format: "frontpace-take",
  version: 1,
  raw: `${COLUMNS}x${ROWS}:u8`,
  ...TAKE,
  notes: `Invented: a dry run before a tile splits, with a card and a lamp of ${LAMP.hertz} Hz in the corner. Rendered from seed ${SEED}; truth.json says what was put in.`,
});
await writeJson("truth.json", {
  invented: true,
  blurPixels: EDGE.blurPixels,
  slantDegrees: EDGE.slantDegrees,
  noise: NOISE,
  lampHz: LAMP.hertz,
  rateHz: RATE,
});

/** Share of an exposure during which the lamp is lit. */
function meanLight(start: number, exposure: number): number {
  const litUntil = (time: number) => {
    const cycles = time * LAMP.hertz;
    return Math.floor(cycles) * LAMP.lit + Math.min(LAMP.lit, cycles - Math.floor(cycles));
  };
  return (litUntil(start + exposure) - litUntil(start)) / (exposure * LAMP.hertz);
}

async function writeJson(name: string, value: unknown): Promise<void> {
  await writeFile(new URL(name, folder), `${JSON.stringify(value, null, 2)}\n`);
}
