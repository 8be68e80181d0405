import { findStraight } from "./find-straight.js";
import type { ShapeFit } from "./fit-shape.js";
import { type InFront, type LeftOut, leaveOut } from "./leave-out.js";
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

export function describeStraight(fit: ShapeFit, samples: Samples): StraightFront | null {
  const [, px, py] = fit.parameters;
  const slowness = Math.hypot(px, py);
  if (!(slowness > 0)) return null;
  const angle = Math.atan2(py, px);
  const [ofSlowness, ofSpeed, ofAngle] = leaveOut(fit, samples, alongSlowness(px, py), ([, qx, qy]) => [
    (qx * px + qy * py) / slowness,
    1 / Math.hypot(qx, qy),
    Math.atan2(qy * px - qx * py, qx * px + qy * py),
  ]);
  return {
    speedPixelsPerFrame: { value: 1 / slowness, ...ofSpeed },
    angleDegrees: { value: degrees(angle), ...inDegrees(ofAngle) },
    slownessFramesPerPixel: { value: slowness, ...ofSlowness },
    cells: fit.usedCount,
    residualFrames: fit.spread,
  };
}

/** Places along the run of a straight front and across it. */
export function alongSlowness(px: number, py: number): InFront {
  return (x, y) => [x * px + y * py, y * px - x * py];
}

const degrees = (radians: number) => (radians * 180) / Math.PI;

function inDegrees({ standardUncertainty, degreesOfFreedom, expandedUncertainty }: LeftOut): LeftOut {
  return {
    standardUncertainty: degrees(standardUncertainty),
    degreesOfFreedom,
    expandedUncertainty: degrees(expandedUncertainty),
  };
}
