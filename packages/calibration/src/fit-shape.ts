import { centralDifferences, type LeastSquaresFit, leastSquares, type SlopesOf } from "./least-squares.js";
import type { Samples } from "./samples-around.js";

/** Values of a shape, -1..1, at every sample. */
export type Shape = (parameters: readonly number[]) => Float64Array;

export interface ShapeFit {
  /** Of the shape. */
  readonly parameters: readonly number[];
  /** Of each of them, from the residuals. */
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
  { x, y, value, radiusPixels }: Samples,
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
  const light = (n: number, alongX: number, alongY: number) =>
    1 + (alongX * x[n] + alongY * y[n]) / radiusPixels;
  const residualsOf = (p: readonly number[]) => {
    const { of, level, height, alongX, alongY } = split(p);
    return shape(of).map((s, n) => light(n, alongX, alongY) * (level + height * s) - value[n] / size);
  };
  const slopesOf = (p: readonly number[]) => {
    const { of, level, height, alongX, alongY } = split(p);
    const now = shape(of);
    const shapes = shapeSlopes(of).map((slopes) =>
      Float64Array.from(slopes, (slope, n) => slope * height * light(n, alongX, alongY)),
    );
    return [
      ...shapes,
      now.map((_, n) => light(n, alongX, alongY)),
      now.map((s, n) => s * light(n, alongX, alongY)),
      now.map((s, n) => (x[n] / radiusPixels) * (level + height * s)),
      now.map((s, n) => (y[n] / radiusPixels) * (level + height * s)),
    ];
  };
  const from = [...start.parameters, start.level / size, start.height / size, 0, 0];
  const fit = leastSquares(residualsOf, from, slopesOf);
  if (!fit) return null;
  const { of, level, height, alongX, alongY } = split(fit.parameters);
  return {
    parameters: of,
    standardUncertainties: uncertaintiesOf(fit).slice(0, -LIGHT),
    level: level * size,
    height: height * size,
    lightSlope: Math.hypot(alongX, alongY),
    rootMeanSquare: size * Math.sqrt(fit.squares / fit.degreesOfFreedom),
  };
}

function uncertaintiesOf({ cofactor, squares, degreesOfFreedom }: LeastSquaresFit): number[] {
  return cofactor.map((row, k) => Math.sqrt((squares / degreesOfFreedom) * row[k]));
}

/** Of each coordinate of a place, where that is the first two parameters. */
export function placeUncertainty({ standardUncertainties: [x, y] }: ShapeFit): number {
  return Math.hypot(x, y) / Math.SQRT2;
}
