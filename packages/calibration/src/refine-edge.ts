import erf from "@stdlib/math-base-special-erf";
import type { Field } from "./field.js";
import { fitShape, type Shape } from "./fit-shape.js";
import { samplesAround } from "./samples-around.js";
import type { Point } from "./types.js";

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
  const { x, y, value } = samples;
  const shape: Shape = ([offset, angle, logBlur]) => {
    const width = Math.SQRT2 * Math.exp(logBlur);
    const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
    return x.map((_, n) => erf((x[n] * cosine + y[n] * sine - offset) / width));
  };
  const level = value.reduce((sum, v) => sum + v, 0) / value.length;
  const parameters = [0, normal, Math.log(1.5)];
  const sharp = shape(parameters);
  const product = sharp.reduce((sum, s, n) => sum + s * (value[n] - level), 0);
  const height = product / sharp.reduce((sum, s) => sum + s * s, 0);
  const fit = fitShape(samples, shape, { parameters, level, height });
  if (!fit) return null;
  const [offset, angle, logBlur] = fit.parameters;
  if (Math.abs(offset) > radiusPixels / 2 || Math.abs(logBlur) > 4) return null;
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
