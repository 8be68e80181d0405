import { findCircle } from "./find-circle.js";
import type { ShapeFit } from "./fit-shape.js";
import { alongRadius } from "./in-front.js";
import { type LeftOut, leaveOut } from "./leave-out.js";
import { type Samples, samplesOf } from "./samples.js";
import type { Measured } from "./straight-front.js";
import type { ArrivalMap, Point } from "./types.js";

export interface CircularFrontOptions {
  /** Where the circle began, px in the picture, which may lie outside. Default: found. */
  readonly origin?: Point;
}

export interface CircularFront {
  /** px in the picture. */
  readonly origin: Point;
  /** Of x and of y; null where the origin was given. */
  readonly originUncertainty: readonly [LeftOut, LeftOut] | null;
  /** Along the radius, px a frame; negative: the circle closes. */
  readonly speedPixelsPerFrame: Measured;
  /** Slowness along the radius, frames per px. */
  readonly slownessFramesPerPixel: Measured;
  /** When the radius is zero at this speed, counted in frame numbers. */
  readonly startTime: Measured;
  /** Cells used, and the standard deviation of their residuals, frames. */
  readonly cells: number;
  readonly residualFrames: number;
}

/** The circle of even speed through an arrival map, T = t0 + r/v about an origin that may lie outside the picture: robust least squares,
 *  uncertainty by leaving out blocks of the picture.
 *  @returns null where the arrivals do not determine one */
export function circularFront(map: ArrivalMap, { origin }: CircularFrontOptions = {}): CircularFront | null {
  const samples = samplesOf(map);
  const { even } = findCircle(samples, origin ?? null);
  return even && describeCircle(even, samples, origin ?? null);
}

export function describeCircle(fit: ShapeFit, samples: Samples, given: Point | null): CircularFront | null {
  const { middle, middleTime } = samples;
  const [t0, slowness, x, y] = fit.parameters;
  if (!(Math.abs(slowness) > 0)) return null;
  const origin: Point = given ?? [x + middle[0], y + middle[1]];
  const about: Point = [origin[0] - middle[0], origin[1] - middle[1]];
  const [ofSlowness, ofSpeed, ofStart, ...ofOrigin] = leaveOut(fit, samples, alongRadius(about), (p) => [
    p[1],
    1 / p[1],
    p[0],
    ...(given ? [] : [p[2], p[3]]),
  ]);
  return {
    origin,
    originUncertainty: given ? null : [ofOrigin[0], ofOrigin[1]],
    speedPixelsPerFrame: { value: 1 / slowness, ...ofSpeed },
    slownessFramesPerPixel: { value: slowness, ...ofSlowness },
    startTime: { value: t0 + middleTime, ...ofStart },
    cells: fit.usedCount,
    residualFrames: fit.spread,
  };
}
