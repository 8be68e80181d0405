import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { type Picture, type Scene, sceneRenderer } from "./scene.js";
import { tiffDirectory, tiffHead } from "./tiff-pages.js";

export type StillFormat = "png" | "jpeg" | "tiff";

/** Writes the frames of a scene as numbered stills; TIFF is uncompressed.
 *  @returns the folder */
export async function writeStills(folder: string, scene: Scene, format: StillFormat): Promise<string> {
  await mkdir(folder);
  const render = sceneRenderer(scene);
  for (let first = 0; first < scene.frames; first += TOGETHER) {
    const frames = Array.from({ length: Math.min(TOGETHER, scene.frames - first) }, (_, k) => first + k);
    await Promise.all(
      frames.map(async (frame) => {
        const name = `tile_${String(frame).padStart(5, "0")}.${format}`;
        await writeFile(join(folder, name), await encoded(render(frame), scene, format));
      }),
    );
  }
  return folder;
}

/** Stills encoded at the same time. */
const TOGETHER = 4;

async function encoded(picture: Picture, scene: Scene, format: StillFormat): Promise<Buffer> {
  const { rows, columns } = scene;
  const samples = Buffer.from(picture.buffer);
  if (format === "tiff") {
    const head = tiffHead(false);
    const page = { isBig: false, isLast: true };
    return Buffer.concat([head, tiffDirectory(picture, scene, head.length, page), samples]);
  }
  const image = sharp(picture, { raw: { width: columns, height: rows, channels: 1 } }).toColourspace("b-w");
  return format === "png" ? image.png().toBuffer() : image.jpeg({ quality: 92 }).toBuffer();
}
