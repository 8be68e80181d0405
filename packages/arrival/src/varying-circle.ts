import type { ShapeFit } from "./fit-shape.js";
import { alongRadius } from "./in-front.js";
import { type LeftOut, leaveOut } from "./leave-out.js";
import type { Samples } from "./samples.js";
import type { Point } from "./types.js";

/** A circle whose speed changes on the way. */
export interface VaryingCircle {
  /** px in the picture. */
  readonly origin: Point;
  /** Of x and of y; null where the origin was given. */
  readonly originUncertainty: readonly [LeftOut, LeftOut] | null;
  /** Radii between which cells were seen to change, px. */
  readonly radii: readonly [number, number];
  /** When the front was at a radius between these, counted in frame numbers: to a fraction of a frame, not the course itself. */
  timeAt(radius: number): number;
}

/** @param given  origin, px in the picture; null: found */
export function varyingCircle(fit: ShapeFit, samples: Samples, given: Point | null): VaryingCircle {
  const { middle, middleTime, reach } = samples;
  const [t0, slowness, second, third, x, y] = fit.parameters;
  const about: Point = given ? [given[0] - middle[0], given[1] - middle[1]] : [x, y];
  const ofOrigin = given ? null : leaveOut(fit, samples, alongRadius(about), (p) => [p[4], p[5]]);
  let [least, most] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 0; i < samples.x.length; i++) {
    if (!Number.isFinite(fit.residuals[i])) continue;
    const radius = Math.hypot(samples.x[i] - about[0], samples.y[i] - about[1]);
    least = Math.min(least, radius);
    most = Math.max(most, radius);
  }
  return {
    origin: [about[0] + middle[0], about[1] + middle[1]],
    originUncertainty: ofOrigin && [ofOrigin[0], ofOrigin[1]],
    radii: [least, most],
    timeAt: (radius) => {
      const part = radius / reach;
      return middleTime + t0 + radius * (slowness + second * part + third * part * part);
    },
  };
}
