import { alignedRounding } from "../pictures/aligned-rounding.js";
import type { Field } from "../pictures/field.js";
import { fitBlurred, PIXEL_BLUR, SHARPEST } from "../pictures/fit-blurred.js";
import { placeUncertainty, type Shape } from "../pictures/fit-shape.js";
import { samplesAround } from "../pictures/samples-around.js";
import { samplingUncertainty } from "../pictures/sampling-uncertainty.js";
import type { Point } from "../types.js";
import { crossing, crossingSlopes } from "./crossing.js";

export interface RefinedPoint {
  readonly place: Point;
  /** Of each coordinate, from the residuals of the fit, and what rounding and the pixels' aperture leave open, px. */
  readonly standardUncertaintyPixels: number;
  /** Standard deviation of what blurs its edges, the integrating pixel in it, px. */
  readonly blurPixels: number;
  /** Between the two levels, in the unit of the samples; the sign says which of them is brighter. */
  readonly step: number;
  /** What the fit leaves, root mean square, in the unit of the samples. */
  readonly left: number;
}

/** The crossing of two blurred edges, fitted to the samples around as pixels of a full square see it. The model is the
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
  const from = { parameters, level, height };
  const fit = fitBlurred(samples, shape, from, (at) => crossingSlopes(samples, at), SHARPEST);
  if (!fit) return null;
  const [dx, dy, directionA, directionB, logBlur] = fit.parameters;
  const isNear = Math.hypot(dx, dy) < Math.max(2, radiusPixels / 2);
  if (!isNear || logBlur > 4) return null;
  const blurPixels = Math.hypot(PIXEL_BLUR, Math.exp(logBlur));
  const lengthPixels = 2 * radiusPixels;
  const step = 2 * fit.height;
  const light = { blurPixels, lengthPixels, step, left: fit.rootMeanSquare, rounding: samples.rounding };
  const ofEdges = [directionA, directionB].map((directionRadians) =>
    Math.hypot(
      samplingUncertainty(directionRadians, blurPixels, lengthPixels),
      alignedRounding({ ...light, directionRadians }),
    ),
  );
  return {
    place: [start[0] + dx, start[1] + dy],
    standardUncertaintyPixels: Math.hypot(placeUncertainty(fit), Math.hypot(...ofEdges) / Math.SQRT2),
    blurPixels,
    step,
    left: fit.rootMeanSquare,
  };
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function dotSquares(values: Float64Array): number {
  return values.reduce((sum, v) => sum + v * v, 0);
}
