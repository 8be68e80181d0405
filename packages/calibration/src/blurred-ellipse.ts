import erf from "@stdlib/math-base-special-erf";
import type { Samples } from "./samples-around.js";

/** An ellipse |(a x + c y, b y)| = 1 about its centre: real, whatever the figures but a = 0 and b = 0. 1/px */
export type Ellipse = readonly [a: number, b: number, c: number];

/** Where samples stand: of each its column and row among those that occur. */
export interface SampleGrid {
  readonly columns: Float64Array;
  readonly rows: Float64Array;
  readonly column: Int32Array;
  readonly row: Int32Array;
}

/** Chords to a blur, and at least: the sum over evenly spaced angles then is the integral to 1e-6. */
const CHORDS = 4;
const FEWEST_CHORDS = 8;
const MOST_CHORDS = 120;

export function sampleGrid({ x, y }: Pick<Samples, "x" | "y">): SampleGrid {
  const [columns, rows] = [distinct(x), distinct(y)];
  return {
    columns,
    rows,
    column: Int32Array.from(x, (value) => columns.indexOf(value)),
    row: Int32Array.from(y, (value) => rows.indexOf(value)),
  };
}

/** An ellipse of 1 on 0 blurred by a Gaussian, at every sample: sum over horizontal chords, each a difference of two error
 *  functions.
 *  @param centre  px, where samples are counted from
 *  @param blurPixels  standard deviation
 *  @returns 0..1, shape (N,) */
export function blurredEllipse(
  { columns, rows, column, row }: SampleGrid,
  [cx, cy]: readonly [number, number],
  [a, b, c]: Ellipse,
  blurPixels: number,
): Float64Array {
  const width = Math.SQRT2 * blurPixels;
  const chords = Math.min(MOST_CHORDS, FEWEST_CHORDS + Math.ceil(CHORDS / Math.abs(b * blurPixels)));
  const along = new Float64Array(columns.length);
  const across = new Float64Array(rows.length);
  const sum = new Float64Array(column.length);
  for (let k = 0; k < chords; k++) {
    const angle = Math.PI * ((k + 0.5) / chords - 0.5);
    const y = Math.sin(angle) / b;
    const half = Math.cos(angle) / Math.abs(a);
    const middle = cx - (c * y) / a;
    for (let i = 0; i < along.length; i++)
      along[i] = erf((columns[i] - middle + half) / width) - erf((columns[i] - middle - half) / width);
    const weight = ((Math.PI / chords) * Math.cos(angle)) / Math.abs(b) / (2 * Math.sqrt(Math.PI) * width);
    for (let j = 0; j < across.length; j++)
      across[j] = weight * Math.exp(-(((rows[j] - cy - y) / width) ** 2));
    addProducts(sum, along, across, column, row);
  }
  return sum;
}

function addProducts(
  sum: Float64Array,
  along: Float64Array,
  across: Float64Array,
  column: Int32Array,
  row: Int32Array,
): void {
  for (let n = 0; n < sum.length; n++) sum[n] += along[column[n]] * across[row[n]];
}

function distinct(values: Float64Array): Float64Array {
  return Float64Array.from(new Set(values)).sort();
}
