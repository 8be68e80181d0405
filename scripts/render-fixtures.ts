/** Renders the invented takes of fixtures/ from their seeds: `pnpm fixtures`. Each is a folder of stills with its
 *  take.json and a truth.json that says what was put in. */
import { mkdir, rm, writeFile } from "node:fs/promises";
import sharp from "sharp";
import { edgeTable } from "./accuracy/edge-table.js";
import { randomFrom } from "./random.js";
import { addSpecks } from "./specks.js";

interface Fixture {
  readonly name: string;
  readonly about: string;
  readonly seed: number;
  readonly prefix: string;
  readonly firstNumber: number;
  readonly frames: number;
  readonly columns: number;
  readonly rows: number;
  readonly bits: 8 | 12;
  /** px a frame, towards larger columns where positive */
  readonly pixelsPerFrame: number;
  /** Column of the front at mid-exposure of frame number 0. */
  readonly columnAtZero: number;
  readonly blurPixels: number;
  readonly exposureFraction: number;
  /** DN; `step` negative for a front that leaves the picture darker. */
  readonly before: number;
  readonly step: number;
  readonly noise: number;
  readonly rateHz: number;
  readonly rateUncertaintyHz: number;
  readonly metresPerPixel: number;
  readonly metresPerPixelUncertainty: number;
}

const TILE = {
  firstNumber: -8,
  frames: 40,
  columns: 256,
  rows: 64,
  pixelsPerFrame: 9.87,
  columnAtZero: 6.4,
  blurPixels: 1.3,
  exposureFraction: 0.4,
  rateHz: 500_000,
  rateUncertaintyHz: 25,
  metresPerPixel: 0.3e-3,
  metresPerPixelUncertainty: 0.9e-6,
};

const FIXTURES: readonly Fixture[] = [
  {
    ...TILE,
    name: "cracking-tile",
    about: "a glazed tile splits in a quench test; the crack front flashes bright under front light",
    seed: 101,
    prefix: "tile_",
    bits: 8,
    before: 62,
    step: 71,
    noise: 5,
  },
  {
    ...TILE,
    name: "cracking-tile-backlit",
    about: "the same split seen against the light: the front leaves the picture darker",
    seed: 102,
    prefix: "backlit_",
    bits: 12,
    before: 2700,
    step: -1150,
    noise: 60,
  },
  {
    name: "slow-crack",
    about: "a crack creeps through a warm tile by a third of a pixel a frame",
    seed: 103,
    prefix: "creep-",
    firstNumber: 1,
    frames: 72,
    columns: 96,
    rows: 32,
    bits: 8,
    pixelsPerFrame: -0.31,
    columnAtZero: 59.3,
    blurPixels: 1.6,
    exposureFraction: 0.9,
    before: 70,
    step: 58,
    noise: 3,
    rateHz: 200_000,
    rateUncertaintyHz: 10,
    metresPerPixel: 0.35e-3,
    metresPerPixelUncertainty: 1.4e-6,
  },
];

for (const fixture of FIXTURES) await render(fixture);

async function render(fixture: Fixture): Promise<void> {
  const { name, seed, frames, firstNumber, columns, rows, bits, pixelsPerFrame } = fixture;
  const folder = new URL(`../fixtures/${name}/`, import.meta.url);
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder, { recursive: true });
  const random = randomFrom(seed);
  const glaze = glazeOf(fixture);
  const edge = edgeTable(fixture.blurPixels, Math.abs(pixelsPerFrame) * fixture.exposureFraction);
  const largest = 2 ** bits - 1;
  for (let k = 0; k < frames; k++) {
    const number = firstNumber + k;
    const front = fixture.columnAtZero + pixelsPerFrame * number;
    const data = bits === 8 ? new Uint8Array(rows * columns) : new Uint16Array(rows * columns);
    for (let column = 0; column < columns; column++) {
      const changed = edge.value(Math.sign(pixelsPerFrame) * (front - column));
      for (let row = 0; row < rows; row++) {
        const at = row * columns + column;
        const level = (fixture.before + fixture.step * changed) * glaze[at] + fixture.noise * random.normal();
        data[at] = Math.max(0, Math.min(largest, Math.round(level)));
      }
    }
    const picture = sharp(data, { raw: { width: columns, height: rows, channels: 1 } });
    const digits = `${number < 0 ? "-" : ""}${String(Math.abs(number)).padStart(4, "0")}`;
    const file = new URL(`${fixture.prefix}${digits}`, folder);
    if (bits === 8)
      await picture.toColourspace("b-w").png({ compressionLevel: 9 }).toFile(`${file.pathname}.png`);
    else
      await picture
        .toColourspace("grey16")
        .tiff({ compression: "deflate", predictor: "horizontal" })
        .toFile(`${file.pathname}.tif`);
  }
  // The scale and rate that really held lie within their stated uncertainty of the stated ones.
  const scale = fixture.metresPerPixel + fixture.metresPerPixelUncertainty * random.normal();
  const rate = fixture.rateHz + fixture.rateUncertaintyHz * random.normal();
  const { rateHz, rateUncertaintyHz, metresPerPixel, metresPerPixelUncertainty } = fixture;
  await writeJson(new URL("take.json", folder), {
    format: "frontpace-take",
    version: 1,
    rateHz,
    rateUncertaintyHz,
    exposureSeconds: fixture.exposureFraction / rateHz,
    metresPerPixel,
    metresPerPixelUncertainty,
    notes: `Invented: ${fixture.about}. Rendered from seed ${seed}; truth.json says what was put in.`,
  });
  await writeJson(new URL("truth.json", folder), {
    invented: true,
    speedMetresPerSecond: Math.abs(pixelsPerFrame) * rate * scale,
    pixelsPerFrame,
    columnAtFrameZero: fixture.columnAtZero,
    rateHz: rate,
    metresPerPixel: scale,
    polarity: fixture.step > 0 ? "bright" : "dark",
    blurPixels: fixture.blurPixels,
    noise: fixture.noise,
  });
}

/** What each pixel of the tile returns of the light: broad unevenness, a fine grain, and some specks. */
function glazeOf({ seed, rows, columns }: Fixture): Float64Array {
  const random = randomFrom(seed + 1000);
  const glaze = Float64Array.from({ length: rows * columns }, (_, at) => {
    const x = (at % columns) / columns - 0.5;
    const y = Math.floor(at / columns) / rows - 0.5;
    return (1 - 0.5 * x * x - 0.4 * y * y) * (1 + 0.04 * random.normal());
  });
  const count = Math.ceil((rows * columns) / 120);
  addSpecks(glaze, [rows, columns], random, { count, depths: [-0.2, 0.3], radii: [0.8, 2.5] });
  return glaze;
}

async function writeJson(file: URL, value: unknown): Promise<void> {
  await writeFile(file, `${JSON.stringify(value, null, 2)}\n`);
}
