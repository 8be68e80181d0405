import type { Sharp } from "sharp";
import { drawnMark } from "../words/drawn-mark.js";

/** A picture as a PNG file that says in its metadata that it was drawn (Exif, ImageDescription). */
export async function drawnPng(picture: Sharp): Promise<Uint8Array> {
  const marked = picture.withExif({ IFD0: { ImageDescription: drawnMark } });
  return new Uint8Array(await marked.png().toBuffer());
}
