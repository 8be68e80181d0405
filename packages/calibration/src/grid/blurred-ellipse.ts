import erf from "@stdlib/math-base-special-erf";
import type { Samples } from "../pictures/samples-around.js";

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
  grid: SampleGrid,
  centre: readonly [number, number],
  ellipse: Ellipse,
  blurPixels: number,
): Float64Array {
  const sum = new Float64Array(grid.column.length);
  for (const chord of chordsOf(ellipse, blurPixels)) {
    const { ends, weights } = partsOf(grid, centre, chord, blurPixels);
    addProducts(sum, ends.value, weights.value, grid);
  }
  return sum;
}

/** Its derivatives after the centre, the logarithms of a and b, c, and the logarithm of the blur, shape (6, N). */
export function blurredEllipseSlopes(
  grid: SampleGrid,
  centre: readonly [number, number],
  ellipse: Ellipse,
  blurPixels: number,
): Float64Array[] {
  const sums = Array.from({ length: 6 }, () => new Float64Array(grid.column.length));
  for (const chord of chordsOf(ellipse, blurPixels))
    addSlopes(sums, partsOf(grid, centre, chord, blurPixels), chord, grid);
  const [ofX, ofY, ofHalf, ofMiddle, ofHeight, ofBlur] = sums;
  const [a, , c] = ellipse;
  // The middle of a chord is cx - c y / a; its half length goes with 1 / a, its height and thickness with 1 / b.
  return [
    ofX,
    ofY,
    ofMiddle.map((value, n) => (c / a) * value - ofHalf[n]),
    ofMiddle.map((value, n) => (c / a) * value - ofHeight[n]),
    ofMiddle.map((value) => -value / a),
    ofBlur,
  ];
}

/** A horizontal strip of an ellipse, about its centre, px. */
interface Chord {
  readonly y: number;
  readonly half: number;
  /** Of its middle to the right. */
  readonly middle: number;
  readonly thickness: number;
}

function chordsOf([a, b, c]: Ellipse, blurPixels: number): Chord[] {
  const chords = Math.min(MOST_CHORDS, FEWEST_CHORDS + Math.ceil(CHORDS / Math.abs(b * blurPixels)));
  return Array.from({ length: chords }, (_, k) => {
    const angle = Math.PI * ((k + 0.5) / chords - 0.5);
    const y = Math.sin(angle) / b;
    const cosine = Math.cos(angle);
    return {
      y,
      half: cosine / Math.abs(a),
      middle: -(c * y) / a,
      thickness: ((Math.PI / chords) * cosine) / Math.abs(b),
    };
  });
}

/** A blurred chord in every column, and its blurred thickness in every row, with what they change by. */
function partsOf(
  { columns, rows }: SampleGrid,
  [cx, cy]: readonly [number, number],
  chord: Chord,
  blurPixels: number,
) {
  const width = Math.SQRT2 * blurPixels;
  const [ends, weights] = [columns, rows].map(({ length }) =>
    [0, 1, 2, 3].map(() => new Float64Array(length)),
  );
  for (let i = 0; i < columns.length; i++) {
    const from = columns[i] - cx - chord.middle;
    const [right, left] = [(from + chord.half) / width, (from - chord.half) / width];
    const steep = 2 / Math.sqrt(Math.PI);
    const [atRight, atLeft] = [steep * Math.exp(-right * right), steep * Math.exp(-left * left)];
    ends[0][i] = erf(right) - erf(left);
    ends[1][i] = (atLeft - atRight) / width;
    ends[2][i] = (atLeft + atRight) / width;
    ends[3][i] = left * atLeft - right * atRight;
  }
  const scale = chord.thickness / (2 * Math.sqrt(Math.PI) * width);
  for (let j = 0; j < rows.length; j++) {
    const away = (rows[j] - cy - chord.y) / width;
    weights[0][j] = scale * Math.exp(-away * away);
    weights[1][j] = (2 * away * weights[0][j]) / width;
    weights[2][j] = (2 * away * away - 1) * weights[0][j];
  }
  return {
    ends: { value: ends[0], ofMiddle: ends[1], ofHalf: ends[2], ofBlur: ends[3] },
    weights: { value: weights[0], ofHeight: weights[1], ofBlur: weights[2] },
  };
}

/** Adds what the sum over samples changes by with the centre, in both directions, the logarithm of the half length, the middle as
 *  much as the chord is high, the logarithm of height and thickness, and the logarithm of the blur. */
function addSlopes(
  [ofX, ofY, ofHalf, ofMiddle, ofHeight, ofBlur]: readonly Float64Array[],
  { ends, weights }: ReturnType<typeof partsOf>,
  { y, half }: Chord,
  { column, row }: SampleGrid,
): void {
  for (let n = 0; n < ofX.length; n++) {
    const [i, j] = [column[n], row[n]];
    const [end, weight, high] = [ends.value[i], weights.value[j], weights.ofHeight[j]];
    const moved = ends.ofMiddle[i] * weight;
    ofX[n] += moved;
    ofY[n] += end * high;
    ofHalf[n] += half * ends.ofHalf[i] * weight;
    ofMiddle[n] += y * moved;
    ofHeight[n] += end * (weight + y * high);
    ofBlur[n] += ends.ofBlur[i] * weight + end * weights.ofBlur[j];
  }
}

function addProducts(
  sum: Float64Array,
  along: Float64Array,
  across: Float64Array,
  { column, row }: SampleGrid,
): void {
  for (let n = 0; n < sum.length; n++) sum[n] += along[column[n]] * across[row[n]];
}

function distinct(values: Float64Array): Float64Array {
  return Float64Array.from(new Set(values)).sort();
}
