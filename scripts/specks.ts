import type { Random } from "./random.js";

/** Multiplies Gaussian specks of dirt, some of them brighter than their surroundings, into a picture.
 *  @param picture  row-major, shape [rows, columns]; changed in place */
export function addSpecks(
  picture: Float64Array,
  [rows, columns]: readonly [number, number],
  random: Random,
  {
    count,
    depths,
    radii,
  }: { count: number; depths: readonly [number, number]; radii: readonly [number, number] },
): void {
  for (let k = 0; k < count; k++) {
    const row = random.uniform(0, rows);
    const column = random.uniform(0, columns);
    const radius = random.uniform(...radii);
    const depth = random.uniform(...depths);
    for (let r = Math.max(0, Math.floor(row - 3 * radius)); r < Math.min(rows, row + 3 * radius); r++)
      for (
        let c = Math.max(0, Math.floor(column - 3 * radius));
        c < Math.min(columns, column + 3 * radius);
        c++
      )
        picture[r * columns + c] *=
          1 - depth * Math.exp(-((r - row) ** 2 + (c - column) ** 2) / (2 * radius ** 2));
  }
}
