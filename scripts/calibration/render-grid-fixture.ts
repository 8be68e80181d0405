/** Renders the invented printed grid of fixtures/printed-grid from its seed, with a truth.json that says what was put in. */
import { mkdir, writeFile } from "node:fs/promises";
import sharp from "sharp";
import { type Camera, renderTarget } from "./render-target.js";

const camera: Camera = {
  columns: 384,
  rows: 256,
  focalPixels: 760,
  axisPixels: [191.5, 127.5],
  k1: 0,
  k2: 0,
  turnDegrees: [8, -22, 3],
  place: [-0.038, -0.026, 0.3],
};
const folder = new URL("../../fixtures/printed-grid/", import.meta.url);
await mkdir(folder, { recursive: true });
const data = renderTarget(
  camera,
  { kind: "corners", along: 9, across: 6, pitch: 0.01 },
  { blur: 0.9, dark: 30, bright: 130, fall: 0.6, noise: 2, seed: 31 },
);
await sharp(data, { raw: { width: camera.columns, height: camera.rows, channels: 1 } })
  .toColourspace("b-w")
  .png({ compressionLevel: 9 })
  .toFile(new URL("grid.png", folder).pathname);
await writeFile(
  new URL("truth.json", folder),
  `${JSON.stringify({ invented: true, squareMetres: 0.01, innerCorners: [9, 6], camera }, null, 2)}\n`,
);
