import type { FrameSource, TrackOptions } from "../types.js";
import type { Band } from "./sampler.js";

/** Width across a given path, px, where none is stated (common practice, no source). */
const DEFAULT_WIDTH = 15;

/** The given path, or the whole picture along its rows and along its columns. */
export function bandsOf({ rows, columns }: FrameSource, { path, width }: TrackOptions): Band[] {
  if (width !== undefined && !(width >= 1)) throw new RangeError(`width must be >= 1, got ${width}`);
  if (path) {
    for (const [x, y] of path)
      if (!(x >= 0 && x <= columns - 1 && y >= 0 && y <= rows - 1))
        throw new RangeError(`path must lie inside x 0..${columns - 1}, y 0..${rows - 1}, got (${x}, ${y})`);
    const [[x1, y1], [x2, y2]] = path;
    if (!(Math.hypot(x2 - x1, y2 - y1) >= 1))
      throw new RangeError(`path must be at least 1 px long, got (${x1}, ${y1}) to (${x2}, ${y2})`);
    return [{ path, width: width ?? DEFAULT_WIDTH }];
  }
  const middleRow = (rows - 1) / 2;
  const middleColumn = (columns - 1) / 2;
  const bands: Band[] = [];
  if (columns > 1)
    bands.push({
      path: [
        [0, middleRow],
        [columns - 1, middleRow],
      ],
      width: width ?? rows,
    });
  if (rows > 1)
    bands.push({
      path: [
        [middleColumn, 0],
        [middleColumn, rows - 1],
      ],
      width: width ?? columns,
    });
  if (bands.length === 0) throw new RangeError(`a picture of one pixel has no path`);
  return bands;
}

export function frameRange(source: FrameSource, { firstFrame, lastFrame }: TrackOptions) {
  const { numbers } = source;
  if (numbers.length === 0) throw new RangeError("source must hold at least one frame, got none");
  const first = firstFrame ?? numbers[0];
  const last = lastFrame ?? numbers[numbers.length - 1];
  const start = numbers.findIndex((number) => number >= first);
  const end = numbers.findLastIndex((number) => number <= last) + 1;
  if (start < 0 || end <= start)
    throw new RangeError(
      `frames ${first}..${last} hold none of the take's frames ${numbers[0]}..${numbers[numbers.length - 1]}`,
    );
  return { start, end };
}
