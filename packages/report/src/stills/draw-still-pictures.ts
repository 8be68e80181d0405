import { commonRange } from "../drawing/brightness-range.js";
import { checkStill } from "../drawing/draw-on-still.js";

/** A still: brightness, row-major, shape [rows, columns]. */
export interface PlainStill {
  readonly data: Float64Array | Float32Array;
  readonly shape: readonly [number, number];
}

/** A larger side than this is averaged down by a whole factor, px. */
const LONGEST = 1280;

/** Stills without anything drawn on them, all in the same greys, so that they can be compared.
 *  @returns PNG files, 8-bit grey, in their order; px of a still are whole squares of px of its file, or the other way round
 *  @throws RangeError where samples and shapes do not fit together */
export async function drawStillPictures(stills: readonly PlainStill[]): Promise<Uint8Array[]> {
  for (const still of stills) checkStill(still);
  const { default: sharp } = await import("sharp");
  const { low, high } = commonRange(stills);
  return Promise.all(
    stills.map(async (still) => {
      const { grey, width, height } = greysOf(still, low, high - low);
      const png = await sharp(grey, { raw: { width, height, channels: 1 } })
        .toColourspace("b-w")
        .png()
        .toBuffer();
      return new Uint8Array(png);
    }),
  );
}

function greysOf({ data, shape: [rows, columns] }: PlainStill, low: number, span: number) {
  const by = Math.ceil(Math.max(rows, columns) / LONGEST);
  const [height, width] = [Math.ceil(rows / by), Math.ceil(columns / by)];
  const grey = new Uint8Array(height * width);
  for (let y = 0, at = 0; y < height; y++) {
    const [top, bottom] = [y * by, Math.min(rows, (y + 1) * by)];
    for (let x = 0; x < width; x++, at++) {
      const [left, right] = [x * by, Math.min(columns, (x + 1) * by)];
      let sum = 0;
      for (let row = top; row < bottom; row++)
        for (let k = row * columns + left; k < row * columns + right; k++) sum += data[k];
      const share = (sum / ((bottom - top) * (right - left)) - low) / span;
      grey[at] = Math.round(255 * Math.min(1, Math.max(0, share)));
    }
  }
  return { grey, width, height };
}
