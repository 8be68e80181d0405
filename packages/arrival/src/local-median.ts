import { median } from "@frontpace/fit";
import type { CellGrid } from "./cell-means.js";

/** Cells to either side. */
const REACH = 2;
/** Of so many cells at least one has a time. */
const LEAST_SHARE = 1 / 4;

/** Median of the times of the cells about each cell, NaN where fewer than a quarter of them have one. Along the border, where the cells about
 *  one lie to one side of it, the medians within are carried on in a straight line. */
export function localMedian(times: Float64Array, grid: CellGrid): Float64Array {
  const { rows, columns } = grid;
  const medians = new Float64Array(times.length);
  const isInner = (r: number, c: number) =>
    r >= REACH && c >= REACH && r < rows - REACH && c < columns - REACH;
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) medians[r * columns + c] = medianAbout(times, grid, r, c);
  const carried = medians.slice();
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      if (isInner(r, c)) continue;
      const [nearRow, nearColumn] = [inside(r, rows), inside(c, columns)];
      const [farRow, farColumn] = [2 * nearRow - r, 2 * nearColumn - c];
      if (!isInner(nearRow, nearColumn) || !isInner(farRow, farColumn)) continue;
      const on = 2 * medians[nearRow * columns + nearColumn] - medians[farRow * columns + farColumn];
      const at = r * columns + c;
      if (!Number.isNaN(on) && !Number.isNaN(medians[at])) carried[at] = on;
    }
  return carried;
}

/** The nearest place whose surroundings lie within the picture. */
function inside(place: number, count: number): number {
  return Math.max(REACH, Math.min(count - 1 - REACH, place));
}

function medianAbout(times: Float64Array, { rows, columns }: CellGrid, r: number, c: number): number {
  const near: number[] = [];
  let cells = 0;
  for (let y = Math.max(0, r - REACH); y <= Math.min(rows - 1, r + REACH); y++)
    for (let x = Math.max(0, c - REACH); x <= Math.min(columns - 1, c + REACH); x++) {
      cells++;
      const time = times[y * columns + x];
      if (!Number.isNaN(time)) near.push(time);
    }
  return near.length >= LEAST_SHARE * cells ? median(near) : Number.NaN;
}
