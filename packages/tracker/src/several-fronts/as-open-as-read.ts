import type { Found } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { misfit } from "../one-front/misfit.js";
import { isSamePassage } from "./positions-apart.js";

/** Another reading of the same passage tells what the way of reading does where it is this sure, relative, and leaves no more than so
 *  many times the noise. */
const TELLS = 0.05;
const EXPLAINS = 1.3;

/** A front that is as unsure as other readings of its passage stand apart from it beyond noise: each takes what else changes in another
 *  way. Half of the largest difference, as for any spread of which no part is more likely. */
export function asOpenAsRead(found: Found, others: readonly Found[]): Found {
  const apart = Math.max(0, ...others.map((other) => apartBeyondNoise(found, other)));
  return apart > 0 ? { ...found, slopeOpenPixels: Math.hypot(found.slopeOpenPixels ?? 0, apart / 2) } : found;
}

/** How far the slopes of two readings of one passage stand apart beyond their uncertainties, px a frame; 0 where the other is of another passage, is unsure
 *  or leaves more than noise. */
function apartBeyondNoise(found: Found, other: Found): number {
  if (!found.front || !other.front || !isSamePassage(other, found)) return 0;
  if (relativeUncertainty(other.front) > TELLS || misfit(other) > EXPLAINS) return 0;
  const difference = other.front.line.slope - found.front.line.slope;
  return Math.sqrt(Math.max(0, difference ** 2 - slopeVariance(found) - slopeVariance(other)));
}

function slopeVariance({ front, slopeOpenPixels = 0 }: Found): number {
  return (front?.line.slopeStandardUncertainty ?? 0) ** 2 + slopeOpenPixels ** 2;
}
