import erf from "@stdlib/math-base-special-erf";
import type { Field } from "./field.js";
import { fitBlurred } from "./fit-blurred.js";
import { placeUncertainty, type Shape } from "./fit-shape.js";
import { type Samples, samplesAround } from "./samples-around.js";
import type { Point } from "./types.js";

export interface RefinedPoint {
  readonly place: Point;
  /** Of each coordinate, from the residuals of the fit, px. */
  readonly standardUncertaintyPixels: number;
  /** Standard deviation of the Gaussian that blurs its edges, px. */
  readonly blurPixels: number;
  /** Between the two levels, in the unit of the samples; the sign says which of them is brighter. */
  readonly step: number;
  /** What the fit leaves, root mean square, in the unit of the samples. */
  readonly left: number;
}

/** The crossing of two blurred edges, fitted to the samples around: product of two error functions. The model is the
 *  same after half a turn, as the pattern is through any blur, any integrating pixel and any curve of the samples, so
 *  what it does not describe leaves the crossing in place.
 *  @param directions  of the two edges, radians
 *  @param radiusPixels  samples no farther than this are used, >= 2.5
 *  @returns null where the fit does not settle near the start */
export function refineCorner(
  field: Field,
  start: Point,
  directions: readonly [number, number],
  radiusPixels: number,
): RefinedPoint | null {
  const samples = samplesAround(field, start, radiusPixels);
  const { value } = samples;
  const shape: Shape = (parameters) => crossing(samples, parameters);
  const parameters = [0, 0, ...directions, 0];
  const sharp = shape(parameters);
  const level = meanOf(value);
  const height = sharp.reduce((sum, s, n) => sum + s * (value[n] - level), 0) / dotSquares(sharp);
  const fit = fitBlurred(samples, shape, { parameters, level, height }, (at) => crossingSlopes(samples, at));
  if (!fit) return null;
  const [dx, dy, , , logBlur] = fit.parameters;
  const isNear = Math.hypot(dx, dy) < Math.max(2, radiusPixels / 2);
  if (!isNear || logBlur > 4) return null;
  return {
    place: [start[0] + dx, start[1] + dy],
    standardUncertaintyPixels: placeUncertainty(fit),
    blurPixels: Math.exp(logBlur),
    step: 2 * fit.height,
    left: fit.rootMeanSquare,
  };
}

/** Two blurred edges that cross, -1..1.
 *  @param parameters  place x and y, px from the middle of the samples, the directions of the edges, radians, and the
 *    logarithm of the blur, px */
export function crossing(
  { x, y }: Pick<Samples, "x" | "y">,
  [cx, cy, a, b, logBlur]: readonly number[],
): Float64Array {
  const width = Math.SQRT2 * Math.exp(logBlur);
  const [sa, ca, sb, cb] = [Math.sin(a), Math.cos(a), Math.sin(b), Math.cos(b)];
  const values = new Float64Array(x.length);
  for (let n = 0; n < values.length; n++) {
    const u = (x[n] - cx) / width;
    const v = (y[n] - cy) / width;
    values[n] = erf(u * sa - v * ca) * erf(u * sb - v * cb);
  }
  return values;
}

/** Its derivatives after each parameter, shape (5, N). */
export function crossingSlopes(
  { x, y }: Pick<Samples, "x" | "y">,
  [cx, cy, a, b, logBlur]: readonly number[],
): Float64Array[] {
  const width = Math.SQRT2 * Math.exp(logBlur);
  const [sa, ca, sb, cb] = [Math.sin(a), Math.cos(a), Math.sin(b), Math.cos(b)];
  const slopes = Array.from({ length: 5 }, () => new Float64Array(x.length));
  for (let n = 0; n < x.length; n++) {
    const u = (x[n] - cx) / width;
    const v = (y[n] - cy) / width;
    const ofA = u * sa - v * ca;
    const ofB = u * sb - v * cb;
    // The derivative of each error function after its argument, times the other.
    const alongA = (2 / Math.sqrt(Math.PI)) * Math.exp(-ofA * ofA) * erf(ofB);
    const alongB = (2 / Math.sqrt(Math.PI)) * Math.exp(-ofB * ofB) * erf(ofA);
    slopes[0][n] = -(alongA * sa + alongB * sb) / width;
    slopes[1][n] = (alongA * ca + alongB * cb) / width;
    slopes[2][n] = alongA * (u * ca + v * sa);
    slopes[3][n] = alongB * (u * cb + v * sb);
    slopes[4][n] = -(alongA * ofA + alongB * ofB);
  }
  return slopes;
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function dotSquares(values: Float64Array): number {
  return values.reduce((sum, v) => sum + v * v, 0);
}
