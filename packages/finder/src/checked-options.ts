import type { EventSource, FindOptions, FrameRegion } from "./types.js";

/** Options complete and held against the take; frames by index. */
export interface CheckedOptions {
  readonly first: number;
  readonly count: number;
  readonly region: FrameRegion;
  readonly shortestFrames: number;
  readonly thorough: boolean;
}

/** @throws RangeError for what does not fit the take */
export function checkOptions(source: EventSource, options: FindOptions): CheckedOptions {
  const { shortestFrames = 32, thorough = false, path, width = 15, region } = options;
  const { numbers, rows, columns } = source;
  if (!(shortestFrames >= 1) || !Number.isFinite(shortestFrames))
    throw new RangeError(`shortestFrames must be >= 1, got ${shortestFrames}`);
  if (!(width >= 1) || !Number.isFinite(width)) throw new RangeError(`width must be >= 1, got ${width}`);
  if (path && region) throw new RangeError("path and region exclude each other, got both");
  const { firstFrame = numbers[0], lastFrame = numbers[numbers.length - 1] } = options;
  const first = firstAtLeast(numbers, firstFrame);
  const count = firstAtLeast(numbers, lastFrame + 1) - first;
  if (numbers.length && !(count > 0))
    throw new RangeError(
      `firstFrame to lastFrame must hold a frame of the take, got ${firstFrame} to ${lastFrame}`,
    );

  let wanted = region ?? { row: 0, column: 0, rows, columns };
  if (path) {
    const [[x0, y0], [x1, y1]] = path;
    for (const value of [x0, y0, x1, y1])
      if (!Number.isFinite(value)) throw new RangeError(`path must be made of finite numbers, got ${value}`);
    const length = Math.hypot(x1 - x0, y1 - y0);
    if (length === 0) throw new RangeError(`path must have a length > 0, got ${x0},${y0} twice`);
    const overX = (Math.abs(y1 - y0) / length) * (width / 2);
    const overY = (Math.abs(x1 - x0) / length) * (width / 2);
    const [column, columnEnd] = span(Math.min(x0, x1) - overX, Math.max(x0, x1) + overX, columns);
    const [row, rowEnd] = span(Math.min(y0, y1) - overY, Math.max(y0, y1) + overY, rows);
    if (columnEnd <= column || rowEnd <= row)
      throw new RangeError(
        `path must lie in the picture of ${columns} x ${rows} px, got ${x0},${y0}:${x1},${y1}`,
      );
    wanted = { row, column, rows: rowEnd - row, columns: columnEnd - column };
  }
  const { row, column } = wanted;
  const whole = [row, column, wanted.rows, wanted.columns].every(Number.isInteger);
  if (
    !whole ||
    row < 0 ||
    column < 0 ||
    wanted.rows < 1 ||
    wanted.columns < 1 ||
    row + wanted.rows > rows ||
    column + wanted.columns > columns
  )
    throw new RangeError(
      `region must be whole pixels within ${columns} x ${rows}, got ${wanted.columns} x ${wanted.rows} at ${column},${row}`,
    );
  return { first, count: Math.max(0, count), region: wanted, shortestFrames, thorough };
}

function span(from: number, to: number, size: number): [number, number] {
  return [Math.max(0, Math.ceil(from)), Math.min(size, Math.floor(to) + 1)];
}

/** Index of the first number >= wanted; the numbers increase. */
function firstAtLeast(numbers: readonly number[], wanted: number): number {
  let low = 0;
  let high = numbers.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (numbers[middle] >= wanted) high = middle;
    else low = middle + 1;
  }
  return low;
}
