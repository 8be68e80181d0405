import { type CellGrid, roundingNoise } from "./cell-grid.js";
import type { FrameReader } from "./frame-reader.js";
import { inLightOf } from "./light.js";
import { median } from "./median.js";
import { noiseOfParts } from "./noise.js";
import { switchingCells } from "./switching-cells.js";
import type { FrameRegion } from "./types.js";

/** Frames that tell it, about. */
const FRAMES = 96;
/** A shorter take an event may fill as what is written does. */
const SHORTEST_TAKE = 1000;
/** A cell changes clearly from one of them to the next where it does by so many times the usual noise of a cell. */
const CLEAR = 10;
/** Clear changes of what is written; the first within this part of the take, and the last of them within as much of its end. */
const CHANGES = 4;
const EARLY = 1 / 4;
/** Cells aside in which digits that change seldom stand. */
const ASIDE = 3;
/** What drifts by, such as dust, leaves a cell as it was: one that is so in this part of the frames is not written on. */
const RESTING = 1 / 2;
/** It stands within this part of the height from the upper or the lower edge, and covers with what is about it no more than that of the
 *  picture. */
const AT_EDGE = 1 / 3;
const LARGEST = 1 / 3;

/** Cells as rows and columns of a grid, ends not included. */
interface CellBox {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

/** Rectangles at the upper and lower edge of the picture in which something changes all through the take, early and late: a counter or a
 *  clock that is written into the frames. What happens changes a place while it lasts.
 *  @param places  of frames spread over the take, increasing
 *  @returns as `withoutWritten` takes them; none where so much of the picture changes that it is no writing, and none without anything above
 *  or below it */
export async function writtenPlaces(
  reader: FrameReader,
  places: readonly number[],
): Promise<readonly FrameRegion[]> {
  const { count, grid } = reader;
  if (count < SHORTEST_TAKE) return [];
  const step = Math.max(1, places.length / FRAMES);
  const some = Array.from(
    { length: Math.floor(places.length / step) },
    (_, i) => places[Math.floor(i * step)],
  );
  const descriptors: Float64Array[] = [];
  for await (const descriptor of reader.descriptors(some)) {
    descriptors.push(descriptor);
    reader.report("sampling", descriptors.length, places.length);
  }
  const reference = descriptors[descriptors.length >> 1];
  const steady = descriptors.map((values) => inLightOf(values, reference, grid));
  const rounding = roundingNoise(reader.roundingStep(reference[grid.size - 1]), grid);
  const noise = usualNoise(steady, rounding, grid);
  const changes = clearChanges(steady, noise, grid);
  const last = some.length - 1;
  const isWritten = (at: readonly number[], cell: number) =>
    at.length >= CHANGES &&
    at[0] < EARLY * last &&
    at[at.length - 1] > (1 - EARLY) * last &&
    restingShare(steady, cell, noise, grid) < RESTING;
  const restless = changes.flatMap((at, cell) => (isWritten(at, cell) ? [cell] : []));
  const switching = await switchingCells(reader, some, restless);
  const boxes = together(switching.map((cell) => boxOf(cell, grid)))
    .map((box) => withSeldom(box, changes, grid))
    .filter((box) => isAtEdge(box, grid));
  const written = together(boxes.map((box) => wider(box, grid)))
    .map((box) => regionOf(box, grid))
    .filter(({ rows }) => rows < grid.rows);
  const area = written.reduce((sum, { rows, columns }) => sum + rows * columns, 0);
  return area > LARGEST * grid.rows * grid.columns ? [] : written;
}

function isAtEdge({ top, bottom }: CellBox, { rowEdges, rows }: CellGrid): boolean {
  return rowEdges[bottom] <= AT_EDGE * rows || rowEdges[top] >= (1 - AT_EDGE) * rows;
}

/** Usual noise of the mean and of the texture of a cell: of half of them it is less. */
function usualNoise(
  values: readonly Float64Array[],
  floor: Float64Array,
  { cells }: CellGrid,
): readonly [mean: number, texture: number] {
  const noise = noiseOfParts(values, [], floor);
  return [median(noise.slice(0, cells)), median(noise.slice(cells, 2 * cells))];
}

/** For every cell the frames in which it differs clearly from the one before. */
function clearChanges(
  values: readonly Float64Array[],
  [mean, texture]: readonly [number, number],
  { cells }: CellGrid,
): readonly (readonly number[])[] {
  return Array.from({ length: cells }, (_, cell) => {
    const at: number[] = [];
    for (let j = 1; j < values.length; j++) {
      const byMean = Math.abs(values[j][cell] - values[j - 1][cell]) / mean;
      const byTexture = Math.abs(values[j][cells + cell] - values[j - 1][cells + cell]) / texture;
      if (Math.max(byMean, byTexture) > CLEAR) at.push(j);
    }
    return at;
  });
}

/** Part of the frames in which a cell is as it is in most. */
function restingShare(
  values: readonly Float64Array[],
  cell: number,
  [mean, texture]: readonly [number, number],
  { cells }: CellGrid,
): number {
  const rest = [cell, cells + cell].map((k) => median(values.map((of) => of[k])));
  const isAtRest = (of: Float64Array) =>
    Math.abs(of[cell] - rest[0]) < (CLEAR / 2) * mean &&
    Math.abs(of[cells + cell] - rest[1]) < (CLEAR / 2) * texture;
  return values.filter(isAtRest).length / values.length;
}

function boxOf(cell: number, { columnEdges }: CellGrid): CellBox {
  const across = columnEdges.length - 1;
  const [top, left] = [Math.floor(cell / across), cell % across];
  return { top, bottom: top + 1, left, right: left + 1 };
}

/** Boxes that touch or lie as near as letters of a line, joined. */
function together(boxes: readonly CellBox[]): CellBox[] {
  const joined: CellBox[] = [];
  for (const box of boxes) {
    let whole = box;
    for (;;) {
      const near = joined.findIndex((other) => areNear(whole, other));
      if (near < 0) break;
      const [other] = joined.splice(near, 1);
      whole = {
        top: Math.min(whole.top, other.top),
        bottom: Math.max(whole.bottom, other.bottom),
        left: Math.min(whole.left, other.left),
        right: Math.max(whole.right, other.right),
      };
    }
    joined.push(whole);
  }
  return joined;
}

function areNear(a: CellBox, b: CellBox): boolean {
  return a.top <= b.bottom && b.top <= a.bottom && a.left <= b.right + ASIDE && b.left <= a.right + ASIDE;
}

/** A box with cells beside it in its rows that change at all. */
function withSeldom(
  { top, bottom, left, right }: CellBox,
  changes: readonly (readonly number[])[],
  { columnEdges }: CellGrid,
): CellBox {
  const across = columnEdges.length - 1;
  const changesIn = (column: number) => {
    for (let row = top; row < bottom; row++) if (changes[row * across + column].length > 0) return true;
    return false;
  };
  const [from, to] = [Math.max(0, left - ASIDE), Math.min(across, right + ASIDE)];
  let [first, end] = [left, right];
  for (let column = from; column < left && first === left; column++) if (changesIn(column)) first = column;
  for (let column = to - 1; column >= right && end === right; column--)
    if (changesIn(column)) end = column + 1;
  return { top, bottom, left: first, right: end };
}

/** With the cells beside it: their texture is held against its pixels. */
function wider({ top, bottom, left, right }: CellBox, { rowEdges, columnEdges }: CellGrid): CellBox {
  return {
    top: Math.max(0, top - 1),
    bottom: Math.min(rowEdges.length - 1, bottom + 1),
    left: Math.max(0, left - 1),
    right: Math.min(columnEdges.length - 1, right + 1),
  };
}

function regionOf({ top, bottom, left, right }: CellBox, { rowEdges, columnEdges }: CellGrid): FrameRegion {
  const [row, column] = [rowEdges[top], columnEdges[left]];
  return { row, column, rows: rowEdges[bottom] - row, columns: columnEdges[right] - column };
}
