import {
  centralDifferences,
  type LeastSquaresFit,
  leastSquares,
  type SlopesOf,
} from "../numbers/least-squares.js";
import type { Samples } from "./samples-around.js";

/** Values of a shape, -1..1, at every sample. */
export type Shape = (parameters: readonly number[]) => Float64Array;

export interface ShapeFit {
  /** Of the shape. */
  readonly parameters: readonly number[];
  /** Of each of them, from the residuals, or from the rounding of the samples where they are less. */
  readonly standardUncertainties: readonly number[];
  /** Mean of the two levels, in the unit of the samples. */
  readonly level: number;
  /** Half the step between the two levels, in the unit of the samples. */
  readonly height: number;
  /** Change of the light from the middle of the samples to their rim, relative. */
  readonly lightSlope: number;
  /** What is left, in the unit of the samples. */
  readonly rootMeanSquare: number;
}

/** Level, height and the slopes of the light. */
const LIGHT = 4;

/** Fits a two-valued pattern in light that slopes: (1 + g·x) (level + height · shape).
 *  @param start  parameters of the shape, and what it is high and low by in the middle of the samples
 *  @param shapeSlopes  derivatives of the shape after each of its parameters; default: central differences
 *  @returns null where the fit does not settle */
export function fitShape(
  { x, y, value, radiusPixels, rounding }: Samples,
  shape: Shape,
  start: { readonly parameters: readonly number[]; readonly level: number; readonly height: number },
  shapeSlopes: SlopesOf = (parameters) => centralDifferences(shape, parameters),
): ShapeFit | null {
  const size = Math.abs(start.height);
  if (!(size > 0) || value.length < start.parameters.length + 2 * LIGHT) return null;
  const split = (p: readonly number[]) => {
    const [level, height, alongX, alongY] = p.slice(-LIGHT);
    return { of: p.slice(0, -LIGHT), level, height, alongX, alongY };
  };
  const scaled = value.map((v) => v / size);
  const [alongRadius, acrossRadius] = [x, y].map((place) => place.map((v) => v / radiusPixels));
  const lightOf = (alongX: number, alongY: number) => sumOf(1, [alongX, alongRadius], [alongY, acrossRadius]);
  const residualsOf = (p: readonly number[]) => {
    const { of, level, height, alongX, alongY } = split(p);
    const shown = product(lightOf(alongX, alongY), sumOf(level, [height, shape(of)]));
    return sumOf(0, [1, shown], [-1, scaled]);
  };
  const slopesOf = (p: readonly number[]) => {
    const { of, level, height, alongX, alongY } = split(p);
    const now = shape(of);
    const light = lightOf(alongX, alongY);
    const even = sumOf(level, [height, now]);
    const steep = sumOf(0, [height, light]);
    return [
      ...shapeSlopes(of).map((slopes) => product(slopes, steep)),
      light,
      product(now, light),
      product(alongRadius, even),
      product(acrossRadius, even),
    ];
  };
  const from = [...start.parameters, start.level / size, start.height / size, 0, 0];
  const fit = leastSquares(residualsOf, from, slopesOf);
  if (!fit) return null;
  const { of, level, height, alongX, alongY } = split(fit.parameters);
  return {
    parameters: of,
    standardUncertainties: uncertaintiesOf(fit, rounding / size).slice(0, -LIGHT),
    level: level * size,
    height: height * size,
    lightSlope: Math.hypot(alongX, alongY),
    rootMeanSquare: size * Math.sqrt(fit.squares / fit.degreesOfFreedom),
  };
}

/** base + Σ factor · values */
function sumOf(base: number, ...terms: readonly (readonly [number, ArrayLike<number>])[]): Float64Array {
  const sum = new Float64Array(terms[0][1].length).fill(base);
  for (const [factor, values] of terms) addTo(sum, factor, values);
  return sum;
}

function addTo(sum: Float64Array, factor: number, values: ArrayLike<number>): void {
  for (let n = 0; n < sum.length; n++) sum[n] += factor * values[n];
}

function product(a: ArrayLike<number>, b: ArrayLike<number>): Float64Array {
  const out = new Float64Array(a.length);
  for (let n = 0; n < out.length; n++) out[n] = a[n] * b[n];
  return out;
}

/** Levels take a part of the rounding where a picture is flat, and residuals then do not show it.
 *  @param least  standard deviation of a sample, at least */
function uncertaintiesOf({ cofactor, squares, degreesOfFreedom }: LeastSquaresFit, least: number): number[] {
  const variance = Math.max(squares / degreesOfFreedom, least ** 2);
  return cofactor.map((row, k) => Math.sqrt(variance * row[k]));
}

/** Of each coordinate of a place, where that is the first two parameters. */
export function placeUncertainty({ standardUncertainties: [x, y] }: ShapeFit): number {
  return Math.hypot(x, y) / Math.SQRT2;
}
