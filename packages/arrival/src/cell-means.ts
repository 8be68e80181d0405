import type { NdArray } from "ndarray";
import type { FrameSamples } from "./types.js";

/** Cells of the picture; what is left over at the right and at the bottom belongs to none. */
export interface CellGrid {
  readonly cell: number;
  readonly rows: number;
  readonly columns: number;
}

/** @throws RangeError on a cell that is not a whole number >= 1 or larger than the picture */
export function cellGrid(rows: number, columns: number, cell: number): CellGrid {
  if (!(Number.isInteger(cell) && cell >= 1 && cell <= Math.min(rows, columns)))
    throw new RangeError(`cell must be a whole number 1..${Math.min(rows, columns)}, got ${cell}`);
  return { cell, rows: Math.floor(rows / cell), columns: Math.floor(columns / cell) };
}

/** Mean brightness of every cell.
 *  @param number  of the frame, for the message
 *  @param into  shape (rows · columns,), overwritten
 *  @throws RangeError with the code `samples-not-finite` on a sample that is not a finite number */
export function cellMeans(
  frame: NdArray<FrameSamples>,
  number: number,
  grid: CellGrid,
  into: Float64Array,
): void {
  const { cell, rows, columns } = grid;
  const { data, offset } = frame;
  const [down, right] = frame.stride;
  into.fill(0);
  for (let y = 0; y < rows * cell; y++) {
    const first = Math.floor(y / cell) * columns;
    let at = offset + y * down;
    for (let c = 0; c < columns; c++) {
      let sum = 0;
      for (let k = 0; k < cell; k++, at += right) sum += data[at];
      into[first + c] += sum;
    }
  }
  const share = 1 / (cell * cell);
  for (let i = 0; i < into.length; i++) {
    into[i] *= share;
    if (Number.isFinite(into[i])) continue;
    const [row, column] = [Math.floor(i / columns) * cell, (i % columns) * cell];
    const message = `frame ${number} must hold finite samples, got NaN or infinity in the ${cell} x ${cell} px from row ${row}, column ${column} on`;
    throw Object.assign(new RangeError(message), { code: "samples-not-finite" });
  }
}

/** Means of cells `factor` times as large, from those of the small ones. */
export function coarserMeans(
  means: Float64Array,
  fine: CellGrid,
  coarse: CellGrid,
  into: Float64Array,
): void {
  const factor = coarse.cell / fine.cell;
  into.fill(0);
  for (let r = 0; r < coarse.rows * factor; r++) {
    const first = Math.floor(r / factor) * coarse.columns;
    for (let c = 0; c < coarse.columns; c++) {
      let sum = 0;
      for (let k = 0, at = r * fine.columns + c * factor; k < factor; k++, at++) sum += means[at];
      into[first + c] += sum;
    }
  }
  const share = 1 / (factor * factor);
  for (let i = 0; i < into.length; i++) into[i] *= share;
}
