import type { TrackWarning } from "../types.js";

/** Beyond this the speed along the path is 0.4 % more than that across the front. */
const LARGE_TILT_DEGREES = 5;

/** The warning of a front that meets its path at an angle; none where that is small.
 *  @param degrees  0 where the front lies square to the path */
export function tiltWarnings(degrees: number): TrackWarning[] {
  if (!(Math.abs(degrees) > LARGE_TILT_DEGREES)) return [];
  const message = `the front meets the path at ${Math.abs(degrees).toFixed(1)} degrees: the speed along the path is not the speed across the front; multiply it by the cosine of that angle for that`;
  return [{ code: "front-tilted", message }];
}
