// Decodes the stills of a folder and does nothing else: the least that reading them takes.
//
//   node decode-stills.mjs FOLDER [TOP:ROWS] [IN_FLIGHT]
//
// Without TOP:ROWS whole pictures are decoded. Prints the sum of all samples, so that nothing is left undone.
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";

const [folder, band, inFlight = "4"] = process.argv.slice(2);
sharp.cache(false);
const files = (await readdir(folder)).sort();
let next = 0;
let sum = 0;
async function decodeOnwards() {
  while (next < files.length) {
    const image = sharp(join(folder, files[next++]), { ignoreIcc: true }).toColourspace("b-w");
    if (band) {
      const [top, height] = band.split(":").map(Number);
      const { width } = await image.metadata();
      image.extract({ left: 0, top, width, height });
    }
    const samples = await image.raw().toBuffer();
    sum += samples[0];
  }
}
await Promise.all(Array.from({ length: Number(inFlight) }, decodeOnwards));
console.log(sum);
