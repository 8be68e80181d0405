import type { NdArray } from "ndarray";
import type { Light } from "./light.js";
import type { FrameSamples } from "./types.js";

/** Side of the smallest cells, px. */
const SIDE = 4;

/** A kind of area over which departures are averaged. */
interface AreaKind {
  /** Small cells high and wide; Infinity: the whole picture. */
  readonly high: number;
  readonly wide: number;
  readonly down: number;
  readonly across: number;
  /** Where its values begin. */
  readonly from: number;
}

/** Small cells, larger ones made of them, and strips along the whole picture: a front that enters shows in a few pixels,
 *  one that enters along an edge in a strip. */
export interface FineCells {
  readonly rows: number;
  readonly columns: number;
  readonly kinds: readonly AreaKind[];
  /** Values: means of all areas, then the mean squares of the small cells. */
  readonly means: number;
  readonly size: number;
  /** Pixels of every area, shape (size,). */
  readonly pixels: Float64Array;
}

export function fineCells(rows: number, columns: number): FineCells {
  const down = Math.ceil(rows / SIDE);
  const across = Math.ceil(columns / SIDE);
  let from = 0;
  const kinds = [
    [1, 1],
    [4, 4],
    [16, 16],
    [down, 1],
    [1, across],
  ].map(([high, wide]) => {
    const kind = { high, wide, down: Math.ceil(down / high), across: Math.ceil(across / wide), from };
    from += kind.down * kind.across;
    return kind;
  });
  const small = down * across;
  const cells = {
    rows,
    columns,
    kinds,
    means: from,
    size: from + small,
    pixels: new Float64Array(from + small),
  };
  for (let r = 0; r < down; r++)
    for (let c = 0; c < across; c++)
      cells.pixels[r * across + c] =
        (Math.min(rows, (r + 1) * SIDE) - r * SIDE) * (Math.min(columns, (c + 1) * SIDE) - c * SIDE);
  addUp(cells, cells.pixels);
  cells.pixels.copyWithin(from, 0, small);
  return cells;
}

/** Where an area lies: first and last row, first and last column of small cells. */
export function areaOf({ kinds, means }: FineCells, at: number): readonly [number, number, number, number] {
  const place = at < means ? at : at - means;
  const kind = kinds.find((k) => place < k.from + k.down * k.across)!;
  const row = Math.floor((place - kind.from) / kind.across) * kind.high;
  const column = ((place - kind.from) % kind.across) * kind.wide;
  return [row, row + kind.high - 1, column, column + kind.wide - 1];
}

/** Whether a pixel lies in a part of the picture. */
export type PartOfPicture = (row: number, column: number) => boolean;

/** The areas that lie in a part of the picture as a whole, by the middles of their small cells. */
export function areasWithin(cells: FineCells, isWithin: PartOfPicture): (area: number) => boolean {
  const { kinds, rows, columns } = cells;
  const [{ down, across }] = kinds;
  const middle = (cell: number, end: number) => Math.min(end - 1, cell * SIDE + SIDE / 2);
  const isIn = Array.from({ length: down * across }, (_, k) =>
    isWithin(middle(Math.floor(k / across), rows), middle(k % across, columns)),
  );
  return (area) => {
    const [top, bottom, left, right] = areaOf(cells, area);
    for (let row = top; row <= Math.min(bottom, down - 1); row++)
      for (let column = left; column <= Math.min(right, across - 1); column++)
        if (!isIn[row * across + column]) return false;
    return true;
  };
}

/** Departures of a frame, its light divided out, from a picture.
 *  @param picture  shape (rows * columns,), row by row
 *  @returns shape (size,): mean departures of the areas, then mean squares of the small cells */
export function departures(
  frame: NdArray<FrameSamples>,
  light: Light,
  picture: Float64Array,
  cells: FineCells,
): Float64Array {
  const { rows, columns, pixels, means, size, kinds } = cells;
  const { data, offset } = frame;
  const [rowStride, columnStride] = frame.stride;
  const { across } = kinds[0];
  const values = new Float64Array(size);
  for (let row = 0; row < rows; row++) {
    const first = Math.floor(row / SIDE) * across;
    const left = light.base + light.byRow * row;
    let at = offset + row * rowStride;
    for (let column = 0; column < columns; column++, at += columnStride) {
      const departure = data[at] / (left + light.byColumn * column) - picture[row * columns + column];
      const cell = first + ((column / SIDE) | 0);
      values[cell] += departure;
      values[means + cell] += departure * departure;
    }
  }
  addUp(cells, values);
  for (let k = 0; k < size; k++) values[k] /= pixels[k];
  return values;
}

/** Sums of the small cells to sums of all other areas. */
function addUp({ kinds }: FineCells, sums: Float64Array): void {
  const [{ down, across }] = kinds;
  for (const kind of kinds.slice(1))
    for (let r = 0; r < down; r++) {
      const first = kind.from + Math.floor(r / kind.high) * kind.across;
      for (let c = 0; c < across; c++) sums[first + Math.floor(c / kind.wide)] += sums[r * across + c];
    }
}
