import type { ShapeFit } from "./fit-shape.js";
import { alongRadius } from "./in-front.js";
import { type LeftOut, leaveOut } from "./leave-out.js";
import type { Samples } from "./samples.js";
import type { Point } from "./types.js";

/** How the speed of a circle differs by direction: the axes of the ellipse that it draws. */
export interface FrontAxes {
  /** Middle of the ellipse, px in the picture: that of the best circle lies elsewhere. */
  readonly origin: Point;
  /** Of x and of y; null where the origin was given. */
  readonly originUncertainty: readonly [LeftOut, LeftOut] | null;
  /** Longer over shorter axis, >= 1: the greatest speed over the least. Of a true circle it is about 1 and its uncertainty. */
  readonly ratio: LeftOut & { readonly value: number };
  /** Of the longer axis, degrees from x towards y (down), above −90 and up to 90. */
  readonly angleDegrees: number;
  /** Whether the difference is real: of true circles 99 % show a smaller one. */
  readonly differ: boolean;
  /** Along the radius, the square mean of that along the two axes, frames per px. */
  readonly slownessFramesPerPixel: LeftOut & { readonly value: number };
}

const CHANCE = 0.01;

/** Ratio and direction of the axes of an ellipse; its two parameters together are held against their uncertainties, for the direction was
 *  chosen by the same arrivals.
 *  @param given  origin, px in the picture; null: found
 *  @see Hotelling, Ann. Math. Stat. 2 (1931) 360 (T²; citation from memory) */
export function frontAxes(fit: ShapeFit, samples: Samples, given: Point | null): FrontAxes | null {
  const [, , e1, e2, x, y] = fit.parameters;
  const { middle } = samples;
  const about: Point = given ? [given[0] - middle[0], given[1] - middle[1]] : [x, y];
  const size = Math.hypot(e1, e2);
  if (!(size < 1)) return null;
  const [c, s] = size > 0 ? [e1 / size, e2 / size] : [1, 0];
  const [ofRatio, of1, of2, ofSlowness, ...ofOrigin] = leaveOut(fit, samples, alongRadius(about), (p) => [
    ratioOf(c * p[2] + s * p[3]),
    p[2],
    p[3],
    p[1],
    ...(given ? [] : [p[4], p[5]]),
  ]);
  const square = (e1 / of1.standardUncertainty) ** 2 + (e2 / of2.standardUncertainty) ** 2;
  const longer = (Math.atan2(-e2, -e1) / 2) * (180 / Math.PI);
  return {
    origin: given ?? [about[0] + middle[0], about[1] + middle[1]],
    originUncertainty: given ? null : [ofOrigin[0], ofOrigin[1]],
    ratio: { value: ratioOf(size), ...ofRatio },
    angleDegrees: longer <= -90 ? longer + 180 : longer,
    differ: square > limitOfSquare(Math.min(of1.degreesOfFreedom, of2.degreesOfFreedom)),
    slownessFramesPerPixel: { value: fit.parameters[1], ...ofSlowness },
  };
}

function ratioOf(e: number): number {
  return Math.sqrt((1 + e) / (1 - e));
}

/** Hotelling's T² of two figures that is exceeded by chance: 2 ν/(ν − 1) F(2, ν − 1), F in closed form. */
function limitOfSquare(degreesOfFreedom: number): number {
  const m = Math.max(1, degreesOfFreedom - 1);
  return (m + 1) * (CHANCE ** (-2 / m) - 1);
}
