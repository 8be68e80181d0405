import type { Field } from "../pictures/field.js";
import { fitBlurred, PIXEL_BLUR, SHARPEST } from "../pictures/fit-blurred.js";
import { placeUncertainty } from "../pictures/fit-shape.js";
import { type Samples, samplesAround } from "../pictures/samples-around.js";
import type { Point } from "../types.js";
import type { Ellipse } from "./blurred-ellipse.js";
import type { RefinedPoint } from "./refine-corner.js";
import { rimSampling } from "./rim-sampling.js";
import { ellipseOf, spot, spotSlopes } from "./spot.js";

/** A fitted ellipse. */
export interface RefinedDot extends RefinedPoint {
  /** Semi-axes, px, the longer first. */
  readonly semiAxesPixels: readonly [number, number];
  readonly ellipse: Ellipse;
}

/** The centre of a blurred elliptical spot, fitted to the samples around as pixels of a full square see it.
 *  @param radiusPixels  samples no farther than this are used
 *  @returns null where the fit does not settle near the start */
export function refineDot(field: Field, start: Point, radiusPixels: number): RefinedDot | null {
  const samples = samplesAround(field, start, radiusPixels);
  const shape = (parameters: readonly number[]) => spot(samples, parameters);
  const fit = fitBlurred(samples, shape, startOf(samples), (at) => spotSlopes(samples, at), SHARPEST);
  if (!fit) return null;
  const [dx, dy, ...of] = fit.parameters;
  const ellipse = ellipseOf(of, radiusPixels);
  const semiAxesPixels = semiAxesOf(ellipse);
  const isNear = Math.hypot(dx, dy) < radiusPixels / 2;
  const isWhole = semiAxesPixels[0] < radiusPixels && semiAxesPixels[1] > 0.5;
  if (!isNear || !isWhole || of[3] > 4) return null;
  const blurPixels = Math.hypot(PIXEL_BLUR, Math.exp(of[3]));
  return {
    place: [start[0] + dx, start[1] + dy],
    standardUncertaintyPixels: Math.hypot(placeUncertainty(fit), rimSampling(semiAxesPixels[1], blurPixels)),
    blurPixels,
    semiAxesPixels,
    ellipse,
    step: 2 * fit.height,
    left: fit.rootMeanSquare,
  };
}

/** A round spot in the middle, as large as the share of the step that its samples hold. */
function startOf({ x, y, value, radiusPixels }: Samples) {
  const mean = (low: number, high: number) => {
    const ring = value.filter((_, n) => {
      const distance = Math.hypot(x[n], y[n]);
      return distance >= low && distance <= high;
    });
    return ring.reduce((sum, v) => sum + v, 0) / ring.length;
  };
  const outside = mean(0.85 * radiusPixels, radiusPixels);
  const inside = mean(0, 0.2 * radiusPixels + 1);
  const filled = value.reduce((sum, v) => sum + (v - outside) / (inside - outside), 0) / value.length;
  const log = -Math.log(Math.sqrt(Math.min(0.9, Math.max(0.02, filled))));
  return {
    parameters: [0, 0, log, log, 0, 0],
    level: (outside + inside) / 2,
    height: (inside - outside) / 2,
  };
}

/** One over the singular values. */
export function semiAxesOf([a, b, c]: Ellipse): [number, number] {
  const [sum, product] = [a * a + b * b + c * c, a * b];
  const root = Math.sqrt(Math.max(0, sum * sum - 4 * product * product));
  return [Math.sqrt(2 / (sum - root)), Math.sqrt(2 / (sum + root))];
}
