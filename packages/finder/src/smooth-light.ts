import type { CellGrid } from "./cell-grid.js";
import { median } from "./median.js";
import { solveSymmetric } from "./solve-symmetric.js";

/** How one light makes another over the whole picture: brightness times a factor plus an offset, both smooth over the picture.
 *  Coefficients of 1, x, y, x², x y, y², with x and y from -0.5 to 0.5 across and down. */
export interface SmoothLight {
  readonly factor: Float64Array;
  readonly offset: Float64Array;
}

const TERMS = 6;
const ROUNDS = 8;
/** A cell this many robust standard deviations off has no say (Tukey's biweight; common practice, no source). */
const NO_SAY = 4.685;
/** A simpler light will do where it leaves at most so many times as much, or as noise alone does. */
const AS_GOOD = 1.2;
/** Median of absolute normal deviates, standard deviations. */
const OF_MEDIAN = 0.6745;
/** Where a picture has little texture a factor and an offset stand for each other, and both together may be anything: a factor below this is
 *  none. */
const LEAST_FACTOR = 0.5;

/** The light that leads from the cell means of one picture to those of another, robustly, so that what happens in few of the cells does
 *  not count: a factor alone where that will do, else an offset alone, else both.
 *  @param from, to  descriptors, shape (grid.size,)
 *  @param noise  standard deviation of the difference of a cell, unit of the samples */
export function smoothLight(
  from: Float64Array,
  to: Float64Array,
  grid: CellGrid,
  noise: number,
): SmoothLight {
  const kinds = [
    { factor: true, offset: false },
    { factor: false, offset: true },
    { factor: true, offset: true },
  ];
  const fits = kinds.map((kind) => fitted(from, to, grid, kind));
  const left = fits.map((light) => median(misfits(from, to, light, grid)));
  const least = Math.min(
    ...grid.centreRows.map((row, k) => factorAt(fits[2], grid, row, grid.centreColumns[k])),
  );
  if (least < LEAST_FACTOR) left[2] = Number.POSITIVE_INFINITY;
  const enough = AS_GOOD * Math.max(Math.min(...left), OF_MEDIAN * noise);
  return fits[left.findIndex((value) => value <= enough)];
}

/** How far every cell is from what the light makes of it, unit of the samples, shape (grid.cells,). */
export function misfits(
  from: Float64Array,
  to: Float64Array,
  light: SmoothLight,
  grid: CellGrid,
): Float64Array {
  return Float64Array.from({ length: grid.cells }, (_, k) => {
    const terms = termsAt(grid, grid.centreRows[k], grid.centreColumns[k]);
    return Math.abs(to[k] - dot(light.factor, terms) * from[k] - dot(light.offset, terms));
  });
}

function factorAt({ factor }: SmoothLight, grid: CellGrid, row: number, column: number): number {
  return dot(factor, termsAt(grid, row, column));
}

/** What the light makes of a cell mean more than it was, shape (grid.cells,). */
export function lightSteps(
  from: Float64Array,
  { factor, offset }: SmoothLight,
  grid: CellGrid,
): Float64Array {
  return Float64Array.from({ length: grid.cells }, (_, k) => {
    const terms = termsAt(grid, grid.centreRows[k], grid.centreColumns[k]);
    return (dot(factor, terms) - 1) * from[k] + dot(offset, terms);
  });
}

/** Values of the six terms at a place of the picture. */
function termsAt(
  { rows, columns }: Pick<CellGrid, "rows" | "columns">,
  row: number,
  column: number,
): readonly number[] {
  const x = column / columns - 0.5;
  const y = row / rows - 0.5;
  return [1, x, y, x * x, x * y, y * y];
}

function fitted(
  from: Float64Array,
  to: Float64Array,
  grid: CellGrid,
  wanted: { readonly factor: boolean; readonly offset: boolean },
): SmoothLight {
  // Beside a factor the offset is a plane: more could hardly be told from it.
  const offsets = wanted.offset ? (wanted.factor ? 3 : TERMS) : 0;
  const factors = wanted.factor ? TERMS : 0;
  const scale = Math.max(1e-9, median(from.subarray(0, grid.cells).map(Math.abs)));
  const rows = Array.from({ length: grid.cells }, (_, k) => {
    const terms = termsAt(grid, grid.centreRows[k], grid.centreColumns[k]);
    return [...terms.slice(0, factors).map((term) => (term * from[k]) / scale), ...terms.slice(0, offsets)];
  });
  let light: SmoothLight = { factor: Float64Array.of(1, 0, 0, 0, 0, 0), offset: new Float64Array(TERMS) };
  const weights = new Float64Array(grid.cells).fill(1);
  for (let round = 0; round < ROUNDS; round++) {
    const solution = weightedLeastSquares(
      rows,
      Float64Array.from({ length: grid.cells }, (_, k) => to[k] - (factors ? 0 : from[k])),
      weights,
    );
    if (!solution) return light;
    const factor = Float64Array.of(factors ? 0 : 1, 0, 0, 0, 0, 0);
    const offset = new Float64Array(TERMS);
    for (let j = 0; j < factors; j++) factor[j] = solution[j] / scale;
    for (let j = 0; j < offsets; j++) offset[j] = solution[factors + j];
    light = { factor, offset };
    const off = misfits(from, to, light, grid);
    const usual = Math.max(1e-9 * scale, 1.4826 * median(off));
    for (let k = 0; k < weights.length; k++) {
      // The first rounds lessen the say of all that is off, so that the last ones begin at the majority.
      const part = off[k] / (NO_SAY * usual);
      weights[k] =
        round < ROUNDS / 2 ? 1 / Math.max(off[k] / usual, 1) : part < 1 ? (1 - part * part) ** 2 : 0;
    }
  }
  return light;
}

function weightedLeastSquares(
  rows: readonly (readonly number[])[],
  values: Float64Array,
  weights: Float64Array,
): Float64Array | null {
  const size = rows[0].length;
  const matrix = Array.from({ length: size }, () => new Float64Array(size));
  const right = new Float64Array(size);
  for (let k = 0; k < rows.length; k++)
    for (let i = 0; i < size; i++) {
      const weighted = weights[k] * rows[k][i];
      right[i] += weighted * values[k];
      for (let j = 0; j <= i; j++) matrix[i][j] += weighted * rows[k][j];
    }
  return solveSymmetric(matrix, right);
}

function dot(coefficients: Float64Array, terms: readonly number[]): number {
  let sum = 0;
  for (let j = 0; j < TERMS; j++) sum += coefficients[j] * terms[j];
  return sum;
}
