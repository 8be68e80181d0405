import type { Field } from "../pictures/field.js";
import type { Point } from "../types.js";
import { type RefinedPoint, refineCorner } from "./refine-corner.js";
import { type RefinedDot, refineDot } from "./refine-dot.js";
import type { Surroundings } from "./surroundings.js";

/** A fit that leaves more than this share of its step beyond the noise is one to another pattern. Seen: 0.08 at most for a
 *  pattern whose samples went through a curve; more than 0.13 for the squares of a checkerboard taken for dots, and for the gaps
 *  between sharp dots taken for corners. */
const MOST_LEFT = 0.1;
/** Farthest samples that are used for a corner, px. */
const FARTHEST = 20;

/** What the fit to a point of each kind of grid gives. */
export interface RefinedOf {
  readonly corners: RefinedPoint;
  readonly dots: RefinedDot;
}

/** A picture at full size, and the standard deviation of its noise. */
export interface NoisyField {
  readonly field: Field;
  readonly noise: number;
}

/** A point of a grid fitted at full size.
 *  @param start  px, within half the radius of the samples that are used
 *  @returns null where the fit does not settle near the start, or the picture shows another pattern there */
export function refinePoint<Kind extends keyof RefinedOf>(
  { field, noise }: NoisyField,
  kind: Kind,
  start: Point,
  surroundings: Surroundings,
): RefinedOf[Kind] | null {
  const reach = reachOf(kind, surroundings);
  const fit =
    kind === "corners"
      ? refineCorner(field, start, surroundings.directions, reach)
      : refineDot(field, start, reach);
  const isOfKind = fit && fit.left ** 2 - noise ** 2 <= (MOST_LEFT * fit.step) ** 2;
  return isOfKind ? (fit as RefinedOf[Kind]) : null;
}

/** How far from a point samples are used, px. Of corners as far as half way to the next: farther, and neighbours would share
 *  samples, and err together. */
export function reachOf(kind: keyof RefinedOf, { distances }: Surroundings): number {
  const nearest = Math.min(...distances);
  return kind === "corners" ? Math.min(FARTHEST, Math.max(2.6, 0.5 * nearest)) : Math.max(3, 0.55 * nearest);
}
