import type { RecordingMode } from "./mode-types.js";
import type { PlanRequest } from "./request-types.js";

/** Exposure in a mode, s: the one asked for; else the longest that keeps the blur within its limit; else the whole interval.
 *  @param pixelsPerSecond  of the fastest front */
export function chooseExposure(
  { rateHz, minExposureSeconds }: RecordingMode,
  { exposureSeconds, exposureFraction, blurPixels }: PlanRequest,
  pixelsPerSecond: number,
): number {
  if (exposureSeconds !== undefined) return exposureSeconds;
  if (exposureFraction !== undefined) return exposureFraction / rateHz;
  if (blurPixels === undefined) return 1 / rateHz;
  return Math.max(minExposureSeconds ?? 0, Math.min(1 / rateHz, blurPixels / pixelsPerSecond));
}
