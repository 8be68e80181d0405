import type { FrameKind } from "../samples/frame-header.js";
import type { Samples } from "../samples/frame-of.js";
import { floatTiff } from "./float-tiff.js";
import { loadSharp } from "./load-sharp.js";

/** Samples as a still that gives them back bit for bit: PNG, or TIFF where they are floating-point numbers.
 *  @param samples  row-major, of colour red, green and blue interleaved */
export async function encodeStill(
  samples: Samples,
  { rows, columns, colour }: FrameKind,
): Promise<{ readonly extension: ".png" | ".tif"; readonly bytes: Uint8Array }> {
  if (samples instanceof Float32Array)
    return { extension: ".tif", bytes: floatTiff(samples, { rows, columns, colour }) };
  const sharp = await loadSharp();
  const deep = samples instanceof Uint16Array;
  const space = colour ? (deep ? "rgb16" : "srgb") : deep ? "grey16" : "b-w";
  const bytes = await sharp(samples, { raw: { width: columns, height: rows, channels: colour ? 3 : 1 } })
    .toColourspace(space)
    .png()
    .toBuffer();
  return { extension: ".png", bytes };
}
