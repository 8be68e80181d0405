import { median } from "@frontpace/fit";
import { pixelNoise } from "./pixel-noise.js";
import type { ChangePicture, CrackLine, CrackSource, Point } from "./types.js";

/** A pixel is in the middle of a line where it is nearer to it than this, px. */
const MIDDLE = 0.3;
/** Lines that are deeper by this factor in the very last frames are still growing. */
const GROWING = 1.15;

/** How far lines stand out of the picture, over the noise of a pixel in one frame: the median change of the pixels in their middle. All pixels count that the
 *  courses run through, not those that stand out, whose noise would be part of the contrast.
 *  @param range  places of frames in the sequence, end exclusive */
export async function lineContrast(
  source: CrackSource,
  range: { readonly start: number; readonly end: number },
  picture: ChangePicture,
  lines: readonly CrackLine[],
  signal?: AbortSignal,
): Promise<number> {
  const places = lines.flatMap(({ points }) => middleOf(points, picture));
  const depthIn = (change: Float64Array) => Math.abs(median(places.map((at) => change[at])));
  const depth = depthIn(picture.change);
  // While lines grow a mean of frames shows most of them in part, and the very last frames, of more noise, in whole.
  const latest = depthIn(picture.latestChange);
  return (latest > GROWING * depth ? latest : depth) / (await pixelNoise(source, range, signal));
}

/** Pixels in the middle of a course, as places in a row-major picture. */
function middleOf(
  points: readonly Point[],
  { rows, columns }: Pick<ChangePicture, "rows" | "columns">,
): readonly number[] {
  return points.slice(1, -1).flatMap(([x, y], k) => {
    const [before, after] = [points[k], points[k + 2]];
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]) || 1;
    const [tx, ty] = [(after[0] - before[0]) / length, (after[1] - before[1]) / length];
    const near: number[] = [];
    for (let row = Math.max(0, Math.ceil(y - 1)); row <= Math.min(rows - 1, y + 1); row++)
      for (let column = Math.max(0, Math.ceil(x - 1)); column <= Math.min(columns - 1, x + 1); column++) {
        const [dx, dy] = [column - x, row - y];
        const along = dx * tx + dy * ty;
        // Courses have a point for every pixel of their length: a pixel belongs to one of them.
        if (Math.abs(dx * ty - dy * tx) < MIDDLE && along >= -0.5 && along < 0.5)
          near.push(row * columns + column);
      }
    return near;
  });
}
