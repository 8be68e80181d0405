import { fitShape, type ShapeFit } from "./fit-shape.js";
import { alongSlowness, type InFront } from "./in-front.js";
import { leaveOut } from "./leave-out.js";
import type { Samples } from "./samples.js";
import { rigidTurning } from "./shape-models.js";
import { degrees, inDegrees, type Measured } from "./straight-front.js";

/** A front of any form that moves as a whole. */
export interface RigidFront {
  /** Direction of its run from x towards y (down), degrees, −180..180. */
  readonly angleDegrees: Measured;
  /** Along its run, px a frame, > 0. */
  readonly speedPixelsPerFrame: Measured;
  /** How far the front lies behind at a place across the run, px, both counted from the middle of the picture; NaN where it was not seen. */
  lagPixels(across: number): number;
}

/** Share of the samples on either side across the run that say nothing: in the corners of a picture few lie one behind the other, and the form there hangs on a
 *  single block of those that are left out in turn. */
const BORDER = 0.05;

/** The front that moves as a whole, with the direction in which it does: least squares on T = s·along + g(across), of which the direction is one of the
 *  parameters. It shows in the bends of the form, which stay at their place across the run; a straight front has none.
 *  @param start  fit of one whose direction is held, its slowness the first parameter
 *  @param towards  that direction, radians
 *  @returns null where the arrivals do not determine one */
export function rigidFront(samples: Samples, start: ShapeFit, towards: number): RigidFront | null {
  const [px, py] = [Math.cos(towards), Math.sin(towards)];
  const [low, high] = acrossSeen(samples, alongSlowness(px, py));
  const unused = new Float64Array(start.model.parameters);
  const formAt = (across: number) => start.model.time(start.parameters, -across * py, across * px, unused);
  const { model, startFrom } = rigidTurning(towards, [low, high]);
  const fit = fitShape(model, samples, startFrom(start.parameters[0], formAt));
  if (!fit || !(fit.parameters[0] > 0)) return null;
  const [slowness, turned] = fit.parameters;
  const angle = towards + turned;
  const [ofAngle, ofSpeed] = leaveOut(fit, samples, alongSlowness(Math.cos(angle), Math.sin(angle)), (p) => [
    p[1],
    1 / p[0],
  ]);
  const derivatives = new Float64Array(model.parameters);
  return {
    angleDegrees: { value: degrees(Math.atan2(Math.sin(angle), Math.cos(angle))), ...inDegrees(ofAngle) },
    speedPixelsPerFrame: { value: 1 / slowness, ...ofSpeed },
    lagPixels: (across) => {
      const [x, y] = [-across * Math.sin(angle), across * Math.cos(angle)];
      return model.time(fit.parameters, x, y, derivatives) / slowness;
    },
  };
}

/** Between which places across the run the form is told, px. */
function acrossSeen({ x, y }: Samples, inFront: InFront): [number, number] {
  const across = Float64Array.from(x, (value, i) => inFront(value, y[i])[1]).sort();
  return [across[Math.floor(BORDER * across.length)], across[Math.floor((1 - BORDER) * across.length)]];
}
