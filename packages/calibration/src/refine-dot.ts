import erf from "@stdlib/math-base-special-erf";
import type { Field } from "./field.js";
import { fitShape, placeUncertainty, type Shape } from "./fit-shape.js";
import type { RefinedPoint } from "./refine-corner.js";
import { samplesAround } from "./samples-around.js";
import type { Point } from "./types.js";

/** A fitted ellipse. */
export interface RefinedDot extends RefinedPoint {
  /** Semi-axes, px, the longer first. */
  readonly semiAxesPixels: readonly [number, number];
}

/** The centre of a blurred elliptical spot, fitted to the samples around.
 *  @param radiusPixels  samples no farther than this are used
 *  @returns null where the fit does not settle near the start */
export function refineDot(field: Field, start: Point, radiusPixels: number): RefinedDot | null {
  const samples = samplesAround(field, start, radiusPixels);
  const { x, y, value } = samples;
  // The ellipse is |(a x + c y, b y)| = 1: real, whatever the parameters.
  const shape: Shape = ([cx, cy, logA, logB, skew, logBlur]) => {
    const [a, b, c] = axesOf(logA, logB, skew, radiusPixels);
    const width = Math.SQRT2 * Math.exp(logBlur);
    return x.map((_, n) => {
      const u = a * (x[n] - cx) + c * (y[n] - cy);
      const v = b * (y[n] - cy);
      const q = Math.hypot(u, v);
      // Distance to the rim along the gradient of q.
      const slope = q > 1e-6 ? Math.hypot(a * u, c * u + b * v) / q : a;
      return erf((1 - q) / slope / width);
    });
  };
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
  const fit = fitShape(samples, shape, {
    parameters: [0, 0, log, log, 0, 0],
    level: (outside + inside) / 2,
    height: (inside - outside) / 2,
  });
  if (!fit) return null;
  const [dx, dy, logA, logB, skew, logBlur] = fit.parameters;
  const semiAxesPixels = semiAxesOf(axesOf(logA, logB, skew, radiusPixels));
  const isNear = Math.hypot(dx, dy) < radiusPixels / 2;
  const isWhole = semiAxesPixels[0] < radiusPixels && semiAxesPixels[1] > 0.5;
  if (!isNear || !isWhole || Math.abs(logBlur) > 4) return null;
  return {
    place: [start[0] + dx, start[1] + dy],
    standardUncertaintyPixels: placeUncertainty(fit),
    blurPixels: Math.exp(logBlur),
    semiAxesPixels,
  };
}

function axesOf(logA: number, logB: number, skew: number, radius: number) {
  return [Math.exp(logA) / radius, Math.exp(logB) / radius, skew / radius] as const;
}

/** One over the singular values. */
function semiAxesOf([a, b, c]: readonly [number, number, number]): [number, number] {
  const [sum, product] = [a * a + b * b + c * c, a * b];
  const root = Math.sqrt(Math.max(0, sum * sum - 4 * product * product));
  return [Math.sqrt(2 / (sum - root)), Math.sqrt(2 / (sum + root))];
}
