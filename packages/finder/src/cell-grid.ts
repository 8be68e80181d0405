import type { NdArray } from "ndarray";
import type { FrameSamples } from "./types.js";

const MOST_CELLS = 512;
const SMALLEST_SIDE = 4;

/** Cells of nearly equal size that cover a picture, row by row. */
export interface CellGrid {
  readonly rows: number;
  readonly columns: number;
  /** First row of every row of cells, and the number of rows at the end. */
  readonly rowEdges: readonly number[];
  readonly columnEdges: readonly number[];
  /** Centres of the cells, px. */
  readonly centreRows: Float64Array;
  readonly centreColumns: Float64Array;
  /** Number of cells. */
  readonly cells: number;
  /** Values of a descriptor: a mean and a texture for every cell, and the mean of the whole picture. */
  readonly size: number;
  /** Pixels behind each value. */
  readonly pixels: Float64Array;
}

/** At most about 512 cells as nearly square as the picture allows, not smaller than 4 by 4 px. */
export function cellGrid(rows: number, columns: number): CellGrid {
  const side = Math.max(SMALLEST_SIDE, Math.ceil(Math.sqrt((rows * columns) / MOST_CELLS)));
  const rowEdges = edges(rows, side);
  const columnEdges = edges(columns, side);
  const down = rowEdges.length - 1;
  const across = columnEdges.length - 1;
  const cells = down * across;
  const size = 2 * cells + 1;
  const pixels = new Float64Array(size);
  const centreRows = new Float64Array(cells);
  const centreColumns = new Float64Array(cells);
  for (let r = 0; r < down; r++)
    for (let c = 0; c < across; c++) {
      centreRows[r * across + c] = (rowEdges[r] + rowEdges[r + 1] - 1) / 2;
      centreColumns[r * across + c] = (columnEdges[c] + columnEdges[c + 1] - 1) / 2;
      const count = (rowEdges[r + 1] - rowEdges[r]) * (columnEdges[c + 1] - columnEdges[c]);
      pixels[r * across + c] = count;
      pixels[cells + r * across + c] = count;
    }
  pixels[size - 1] = rows * columns;
  return { rows, columns, rowEdges, columnEdges, centreRows, centreColumns, cells, size, pixels };
}

/** A frame as the finder remembers it: the means of the cells, their textures (root mean square difference of
 *  neighbouring pixels, which thin cracks of either sign raise), and the mean of the whole.
 *  @returns shape (grid.size,), unit of the samples */
export function describeFrame(frame: NdArray<FrameSamples>, grid: CellGrid): Float64Array {
  const { data, offset } = frame;
  const [rowStride, columnStride] = frame.stride;
  const { rowEdges, columnEdges, cells, pixels, size } = grid;
  const across = columnEdges.length - 1;
  const values = new Float64Array(size);
  let whole = 0;
  for (let band = 0; band + 1 < rowEdges.length; band++)
    for (let row = rowEdges[band]; row < rowEdges[band + 1]; row++) {
      const up = row > 0 ? rowStride : 0;
      for (let c = 0; c < across; c++) {
        let sum = 0;
        let squares = 0;
        let at = offset + row * rowStride + columnEdges[c] * columnStride;
        let left = columnEdges[c] > 0 ? data[at - columnStride] : data[at];
        for (let column = columnEdges[c]; column < columnEdges[c + 1]; column++, at += columnStride) {
          const value = data[at];
          const along = value - left;
          const down = value - data[at - up];
          sum += value;
          squares += along * along + down * down;
          left = value;
        }
        values[band * across + c] += sum;
        values[cells + band * across + c] += squares;
        whole += sum;
      }
    }
  for (let k = 0; k < cells; k++) {
    values[k] /= pixels[k];
    values[cells + k] = Math.sqrt(values[cells + k] / (2 * pixels[k]));
  }
  values[size - 1] = whole / pixels[size - 1];
  return values;
}

/** The cell in which a pixel lies. */
export function cellAt({ rowEdges, columnEdges }: CellGrid, row: number, column: number): number {
  const place = (edges: readonly number[], at: number) => edges.findIndex((edge) => edge > at) - 1;
  return place(rowEdges, row) * (columnEdges.length - 1) + place(columnEdges, column);
}

/** Some cells with those beside them, corners too. */
export function withNeighbours({ columnEdges, cells }: CellGrid, some: ReadonlySet<number>): Set<number> {
  const across = columnEdges.length - 1;
  const wider = new Set<number>();
  for (const cell of some)
    for (const down of [-1, 0, 1])
      for (const aside of [-1, 0, 1]) {
        const column = (cell % across) + aside;
        const neighbour = cell + down * across + aside;
        if (column >= 0 && column < across && neighbour >= 0 && neighbour < cells) wider.add(neighbour);
      }
  return wider;
}

/** Least noise of one value of a descriptor: that of rounding to steps, averaged over the pixels. */
export function roundingNoise(step: number, grid: CellGrid): Float64Array {
  return grid.pixels.map((count) => step / Math.sqrt(12 * count));
}

function edges(size: number, side: number): number[] {
  const parts = Math.max(1, Math.floor(size / side));
  return Array.from({ length: parts + 1 }, (_, i) => Math.floor((i * size) / parts));
}
