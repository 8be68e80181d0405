import { findStraight } from "./find-straight.js";
import type { ShapeFit } from "./fit-shape.js";
import { alongSlowness } from "./in-front.js";
import { type LeftOut, leaveOut } from "./leave-out.js";
import { type Samples, samplesOf } from "./samples.js";
import type { ArrivalMap } from "./types.js";

export interface StraightFront {
  /** Across the front, px a frame, > 0. */
  readonly speedPixelsPerFrame: Measured;
  /** Direction of its run from x towards y (down), degrees, −180..180. */
  readonly angleDegrees: Measured;
  /** Slowness, frames per px: what decides whether there is a front at all, for it may be zero. */
  readonly slownessFramesPerPixel: Measured;
  /** Cells used, and the standard deviation of their residuals, frames. */
  readonly cells: number;
  readonly residualFrames: number;
}

export interface Measured extends LeftOut {
  readonly value: number;
}

/** The straight front of even speed through an arrival map, T = a + p·x: robust least squares, uncertainty by leaving out blocks of the picture.
 *  @returns null where the arrivals do not determine one */
export function straightFront(map: ArrivalMap): StraightFront | null {
  const samples = samplesOf(map);
  const { even } = findStraight(samples);
  return even && describeStraight(even, samples);
}

/** @param varying  the one whose speed changes, where it explains the arrivals and the even one does not: what the even one leaves would pass for doubt about
 *    the direction */
export function describeStraight(
  fit: ShapeFit,
  samples: Samples,
  varying: ShapeFit | null = null,
): StraightFront | null {
  const [, px, py] = fit.parameters;
  const slowness = Math.hypot(px, py);
  if (!(slowness > 0)) return null;
  const [ofSlowness, ofSpeed] = leaveOut(fit, samples, alongSlowness(px, py), ([, qx, qy]) => [
    (qx * px + qy * py) / slowness,
    1 / Math.hypot(qx, qy),
  ]);
  return {
    speedPixelsPerFrame: { value: 1 / slowness, ...ofSpeed },
    angleDegrees: directionOf(varying ?? fit, samples),
    slownessFramesPerPixel: { value: slowness, ...ofSlowness },
    cells: fit.usedCount,
    residualFrames: fit.spread,
  };
}

function directionOf(fit: ShapeFit, samples: Samples): Measured {
  const [, px, py] = fit.parameters;
  const [ofAngle] = leaveOut(fit, samples, alongSlowness(px, py), ([, qx, qy]) => [
    Math.atan2(qy * px - qx * py, qx * px + qy * py),
  ]);
  return { value: degrees(Math.atan2(py, px)), ...inDegrees(ofAngle) };
}

/** Of radians. */
export const degrees = (radians: number) => (radians * 180) / Math.PI;

/** Of an angle in radians. */
export function inDegrees({ standardUncertainty, degreesOfFreedom, expandedUncertainty }: LeftOut): LeftOut {
  return {
    standardUncertainty: degrees(standardUncertainty),
    degreesOfFreedom,
    expandedUncertainty: degrees(expandedUncertainty),
  };
}
