import type { Found } from "./follow-divided.js";
import { relativeUncertainty } from "./follow-front.js";

/** A speed whose relative standard uncertainty is larger than this is not told: the fit is linearised, and beyond it the interval
 *  no longer holds what it says (seen in trials). */
export const MOST_UNSURE = 0.15;

/** How unsure the speed is, relative to itself, with what the levels leave open; infinite where no front was followed. */
export function unsureness({ front, slopeOpenPixels = 0 }: Found): number {
  return front
    ? Math.hypot(relativeUncertainty(front), slopeOpenPixels / front.motion.slopePixelsPerFrame)
    : Number.POSITIVE_INFINITY;
}
