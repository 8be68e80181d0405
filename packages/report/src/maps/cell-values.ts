/** One value for every cell of a picture. */
export interface CellValues {
  /** Row-major, shape [rows, columns]; NaN where nothing is said. */
  readonly values: Float64Array;
  /** [rows, columns] of the cells, each >= 1. */
  readonly shape: readonly [number, number];
  /** Edge of the square cells, px; cell (r, c) is centred on x = (c + 1/2) cell − 1/2, y = (r + 1/2) cell − 1/2. */
  readonly cell: number;
}

/** Checks that cells fit together and lie in the picture.
 *  @param picture  [rows, columns], px
 *  @throws RangeError naming argument, rule and value */
export function checkCells(
  { values, shape: [rows, columns], cell }: CellValues,
  picture: readonly [number, number],
): void {
  if (!(Number.isInteger(cell) && cell >= 1))
    throw new RangeError(`cell must be a whole number >= 1, got ${cell}`);
  if (values.length !== rows * columns)
    throw new RangeError(`values must hold rows x columns = ${rows * columns} values, got ${values.length}`);
  if (!(rows >= 1 && columns >= 1 && rows * cell <= picture[0] && columns * cell <= picture[1]))
    throw new RangeError(
      `cells must lie in the picture of ${picture[0]} x ${picture[1]} px, got ${rows} x ${columns} of ${cell} px`,
    );
}
