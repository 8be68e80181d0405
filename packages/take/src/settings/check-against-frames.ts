import { TakeError } from "../take-error.js";
import type { TakeFrames } from "../types.js";
import type { Settings } from "./settle.js";

/** The part of the take that is used: frames by index, end exclusive. */
export interface FrameRange {
  readonly start: number;
  readonly end: number;
}

/** What of the settings has to do with the frames. */
export type Extent = Pick<Settings, "path" | "width" | "firstFrame" | "lastFrame"> &
  Partial<Pick<Settings, "cell">>;

/** Checks settings against the picture and the frame numbers.
 *  @throws TakeError `frames-outside`, `path-outside`, `width-outside`, `cell-outside` */
export function checkAgainstFrames(settings: Extent, frames: TakeFrames): FrameRange {
  checkPath(settings, frames);
  checkWidth(settings, frames);
  checkCell(settings, frames);
  return frameRange(settings, frames.numbers);
}

function frameRange({ firstFrame, lastFrame }: Extent, numbers: readonly number[]): FrameRange {
  const first = numbers[0];
  const last = numbers[numbers.length - 1];
  for (const [key, value] of [
    ["firstFrame", firstFrame],
    ["lastFrame", lastFrame],
  ] as const) {
    if (value !== null && (value < first || value > last)) {
      const message = `${key} must lie in the take, whose frames run from ${first} to ${last}, got ${value}`;
      throw new TakeError("frames-outside", message, { key, value });
    }
  }
  const start = numbers.findIndex((number) => number >= (firstFrame ?? first));
  const end = numbers.findLastIndex((number) => number <= (lastFrame ?? last)) + 1;
  if (end <= start) {
    const message = `the take has no frame from firstFrame ${firstFrame} to lastFrame ${lastFrame}: they fall in a gap`;
    throw new TakeError("frames-outside", message, { key: "firstFrame", value: firstFrame });
  }
  return { start, end };
}

function checkPath({ path }: Extent, { rows, columns }: TakeFrames): void {
  for (const [x, y] of path ?? []) {
    if (x >= 0 && x <= columns - 1 && y >= 0 && y <= rows - 1) continue;
    const message = `path must lie inside the picture, x from 0 to ${columns - 1} and y from 0 to ${rows - 1}, got the point ${x},${y}`;
    throw new TakeError("path-outside", message, { key: "path", value: path });
  }
}

function checkWidth({ path, width }: Extent, frames: TakeFrames): void {
  if (width === null) return;
  const { widest, words } = widestBand(path, frames);
  if (width <= widest + 1e-9) return;
  const message = `width must be at most ${words}, got ${width}`;
  throw new TakeError("width-outside", message, { key: "width", value: width });
}

function checkCell({ cell = null }: Extent, { rows, columns }: TakeFrames): void {
  if (cell === null || cell <= Math.min(rows, columns)) return;
  const message = `cell must be at most the ${Math.min(rows, columns)} px of the shorter side of the picture, got ${cell}. Give a smaller one, or none: then it is chosen`;
  throw new TakeError("cell-outside", message, { key: "cell", value: cell });
}

/** The band may be as wide as the picture is across the path: along the normal of an oblique one, and where
 *  the path is still to be found, along the longer side. */
function widestBand(
  path: Extent["path"],
  { rows, columns }: TakeFrames,
): { readonly widest: number; readonly words: string } {
  if (!path) {
    const widest = Math.max(rows, columns);
    const side = columns >= rows ? "columns" : "rows";
    return { widest, words: `the ${widest} ${side} of the picture's longer side (no path is given)` };
  }
  const [dx, dy] = [path[1][0] - path[0][0], path[1][1] - path[0][1]];
  if (dy === 0) return { widest: rows, words: `the ${rows} rows of the picture across this path` };
  if (dx === 0) return { widest: columns, words: `the ${columns} columns of the picture across this path` };
  const widest = (Math.abs(dy) * columns + Math.abs(dx) * rows) / Math.hypot(dx, dy);
  return {
    widest,
    words: `${Math.floor(widest)} px, as far as the ${columns} columns and ${rows} rows of the picture reach across this path`,
  };
}
