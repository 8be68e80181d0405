import { brightnessRange } from "../drawing/brightness-range.js";
import { emptyColour } from "../drawing/hatching.js";
import type { StreakLayout } from "./streak-layout.js";
import type { StreakPicture } from "./streak-picture.js";

/** The plot of a streak as pixels. */
export interface StreakRaster {
  /** Row-major RGB, 8 bits, top row first: the largest position is at the top. */
  readonly rgb: Uint8Array;
  /** Brightness drawn black and white; undefined where the streak holds no sample. */
  readonly range: { readonly low: number; readonly high: number } | undefined;
  /** Whether any pixel of the plot has no sample. */
  readonly hasEmpty: boolean;
}

/** Paints the samples into the plot: enlarged by repetition, squeezed by averaging. A column without a frame and a
 *  missing sample are hatched.
 */
export function rasteriseStreak(picture: StreakPicture, layout: StreakLayout): StreakRaster {
  const { plotWidth: width, plotHeight: height } = layout;
  const range = brightnessRange(picture.data, picture.shape);
  const { sums, counts } = accumulate(picture, layout);
  const rgb = new Uint8Array(width * height * 3);
  let hasEmpty = false;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (counts[i] === 0 || range === undefined) {
        hasEmpty = true;
        rgb.set(emptyColour(x, y), 3 * i);
      } else {
        const level = greyLevel(sums[i] / counts[i], range);
        rgb[3 * i] = level;
        rgb[3 * i + 1] = level;
        rgb[3 * i + 2] = level;
      }
    }
  }
  return { rgb, range, hasEmpty };
}

function greyLevel(value: number, { low, high }: { low: number; high: number }): number {
  if (high > low) return Math.round(255 * Math.min(1, Math.max(0, (value - low) / (high - low))));
  return value < low ? 0 : value > high ? 255 : 128;
}

function accumulate(picture: StreakPicture, layout: StreakLayout) {
  const { data, shape } = picture;
  const { plotWidth: width, plotHeight: height, frameDomain, columns } = layout;
  const sums = new Float64Array(width * height);
  const counts = new Uint32Array(width * height);
  const [frames, positions] = shape;
  const edges = Int32Array.from({ length: positions + 1 }, (_, i) => Math.round((i / positions) * height));
  const pixelsPerFrame = width / (frameDomain[1] - frameDomain[0]);
  for (let frame = 0; frame < frames; frame++) {
    const [left, right] = columns[frame].map((edge) => (edge - frameDomain[0]) * pixelsPerFrame);
    const x0 = Math.min(width - 1, Math.round(left));
    const x1 = Math.min(width, Math.max(x0 + 1, Math.round(right)));
    for (let position = 0; position < positions; position++) {
      const value = data[frame * positions + position];
      if (!Number.isFinite(value)) continue;
      const y0 = Math.min(height - 1, edges[position]);
      const y1 = Math.max(y0 + 1, edges[position + 1]);
      for (let y = y0; y < y1; y++) {
        const row = (height - 1 - y) * width;
        for (let x = row + x0; x < row + x1; x++) {
          sums[x] += value;
          counts[x]++;
        }
      }
    }
  }
  return { sums, counts };
}
