import erf from "@stdlib/math-base-special-erf";
import type { Point } from "../types.js";
import type { Field } from "./field.js";
import { fitBlurred } from "./fit-blurred.js";
import type { Shape } from "./fit-shape.js";
import { type Samples, samplesAround } from "./samples-around.js";

/** A straight blurred edge. */
export interface RefinedEdge {
  /** px, of the edge next to where it was looked for. */
  readonly place: Point;
  /** Direction across the edge, towards the brighter side. */
  readonly normalRadians: number;
  /** Standard deviation of the Gaussian that blurs it, the integrating pixel in it, px. */
  readonly blurPixels: number;
  /** Of the blur. */
  readonly standardUncertaintyPixels: number;
  /** From the darker to the brighter side, in the unit of the samples. */
  readonly step: number;
  /** Change of the brighter plateau from the edge to the rim of the samples by sloping light, as a part of the step. */
  readonly slope: number;
  /** What the fit leaves, root mean square. */
  readonly left: number;
}

/** A blurred step between two levels in sloping light, fitted to the samples around a place.
 *  @param normal  direction across the edge, radians
 *  @param radiusPixels  samples no farther than this are used
 *  @returns null where the fit does not settle near the start */
export function refineEdge(
  field: Field,
  start: Point,
  normal: number,
  radiusPixels: number,
): RefinedEdge | null {
  const samples = samplesAround(field, start, radiusPixels);
  const { value } = samples;
  const shape: Shape = (parameters) => step(samples, parameters);
  const level = value.reduce((sum, v) => sum + v, 0) / value.length;
  const parameters = [0, normal, Math.log(1.5)];
  const sharp = shape(parameters);
  const product = sharp.reduce((sum, s, n) => sum + s * (value[n] - level), 0);
  const height = product / sharp.reduce((sum, s) => sum + s * s, 0);
  const fit = fitBlurred(samples, shape, { parameters, level, height }, (at) => stepSlopes(samples, at));
  if (!fit) return null;
  const [offset, angle, logBlur] = fit.parameters;
  if (Math.abs(offset) > radiusPixels / 2 || logBlur > 4) return null;
  const blurPixels = Math.exp(logBlur);
  return {
    place: [start[0] + offset * Math.cos(angle), start[1] + offset * Math.sin(angle)],
    normalRadians: angle,
    blurPixels,
    standardUncertaintyPixels: blurPixels * fit.standardUncertainties[2],
    step: 2 * Math.abs(fit.height),
    slope: (fit.lightSlope * (Math.abs(fit.level) + Math.abs(fit.height))) / (2 * Math.abs(fit.height)),
    left: fit.rootMeanSquare,
  };
}

/** A blurred step, -1..1.
 *  @param parameters  distance from the middle of the samples, px, the direction across it, radians, and the logarithm
 *    of the blur, px */
export function step(
  { x, y }: Pick<Samples, "x" | "y">,
  [offset, angle, logBlur]: readonly number[],
): Float64Array {
  const width = Math.SQRT2 * Math.exp(logBlur);
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
  return x.map((_, n) => erf((x[n] * cosine + y[n] * sine - offset) / width));
}

/** Its derivatives after each parameter, shape (3, N). */
export function stepSlopes(
  { x, y }: Pick<Samples, "x" | "y">,
  [offset, angle, logBlur]: readonly number[],
): Float64Array[] {
  const width = Math.SQRT2 * Math.exp(logBlur);
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
  const slopes = Array.from({ length: 3 }, () => new Float64Array(x.length));
  for (let n = 0; n < x.length; n++) {
    const at = (x[n] * cosine + y[n] * sine - offset) / width;
    const density = (2 / Math.sqrt(Math.PI)) * Math.exp(-at * at);
    slopes[0][n] = -density / width;
    slopes[1][n] = (density * (y[n] * cosine - x[n] * sine)) / width;
    slopes[2][n] = -density * at;
  }
  return slopes;
}
