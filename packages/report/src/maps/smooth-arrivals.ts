import { quantile } from "d3-array";
import type { CellValues } from "./cell-values.js";

/** A line is to be told to this share of the time from one to the next. */
const WANTED = 0.025;
/** Farther cells would bend what is bent. */
const MOST_CELLS = 12;
/** So many cells to either side are looked at, evenly spread where a square is larger. */
const SAMPLES = 3;

/** Arrivals as isochrones are drawn through them: medians of three by three cells, then planes through a square about every cell, the
 *  larger the less sure the arrivals are beside the time from one line to the next. Both leave a straight front where it is. A sharp front that jumps from
 *  frame to frame arrives in steps, and lines between two steps would wander over the whole of one.
 *  @param standardUncertainty  of the arrivals, in their unit, shape as theirs
 *  @param step  time from one line to the next, in that unit */
export function smoothArrivals(
  cells: CellValues,
  standardUncertainty: Float64Array,
  step: number,
): Float64Array {
  const medians = mediansOfNine(cells);
  const sorted = standardUncertainty
    .filter((u, k) => !Number.isNaN(u) && !Number.isNaN(cells.values[k]))
    .sort();
  const typical = quantile(sorted, 0.5) ?? 0;
  const reach = Math.min(MOST_CELLS, Math.ceil(((typical / (WANTED * step)) ** 2 - 1) / 2));
  if (!(reach >= 1)) return medians;
  const stride = Math.max(1, Math.floor(reach / SAMPLES));
  return medians.map((value, at) =>
    Number.isNaN(value)
      ? value
      : onPlane(medians, cells.shape, at, stride * Math.floor(reach / stride), stride),
  );
}

/** Value at a cell of the plane through those about it, by least squares; its own where they are too few. */
function onPlane(
  values: Float64Array,
  [rows, columns]: readonly [number, number],
  at: number,
  reach: number,
  stride: number,
): number {
  const [row, column] = [Math.floor(at / columns), at % columns];
  let [n, x, y, xx, xy, yy, t, xt, yt] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let dy = -reach; dy <= reach; dy += stride) {
    const r = row + dy;
    if (r < 0 || r >= rows) continue;
    for (let dx = -reach; dx <= reach; dx += stride) {
      const c = column + dx;
      if (c < 0 || c >= columns) continue;
      const d = values[r * columns + c] - values[at];
      if (Number.isNaN(d)) continue;
      n++;
      x += dx;
      y += dy;
      xx += dx * dx;
      xy += dx * dy;
      yy += dy * dy;
      t += d;
      xt += dx * d;
      yt += dy * d;
    }
  }
  // Cramer's rule for the constant of t = c + a x + b y.
  const determinant = n * (xx * yy - xy * xy) - x * (x * yy - xy * y) + y * (x * xy - xx * y);
  if (!(n >= 6 && determinant > 1e-9)) return values[at];
  const constant = t * (xx * yy - xy * xy) - x * (xt * yy - xy * yt) + y * (xt * xy - xx * yt);
  return values[at] + constant / determinant;
}

/** Medians of three by three cells, where all nine have a value. */
function mediansOfNine({ values, shape: [rows, columns] }: CellValues): Float64Array {
  const out = Float64Array.from(values);
  const nine = new Float64Array(9);
  for (let r = 1; r + 1 < rows; r++)
    for (let c = 1; c + 1 < columns; c++) {
      let n = 0;
      for (let row = r - 1; row <= r + 1; row++)
        for (let column = c - 1; column <= c + 1; column++) nine[n++] = values[row * columns + column];
      if (nine.some(Number.isNaN)) continue;
      out[r * columns + c] = nine.sort()[4];
    }
  return out;
}
