import type { FrontTrack, Streak } from "@frontpace/tracker";

/** The tilt of a front against its path as it is at one moment, where rows are read in turn: in a frame it has moved on in the rows that are read
 *  later, so that a square one is seen tilted. The times of its arrival, t = (p - q tan a)/v + ρ y with q px to the right of the path, have the
 *  front of one moment across their gradient.
 *  @param tilt  as it is seen in the frames; null is not told
 *  @param slopePixelsPerFrame  along the path against frame numbers, as it is seen
 *  @param rowTimeFrames  time from row to row, frames; 0: all are taken at once */
export function tiltAtOnce(
  tilt: FrontTrack["tilt"],
  slopePixelsPerFrame: number,
  [[x1, y1], [x2, y2]]: Streak["path"],
  rowTimeFrames: number,
): FrontTrack["tilt"] {
  if (tilt === null || rowTimeFrames === 0) return tilt;
  const length = Math.hypot(x2 - x1, y2 - y1) || 1;
  const perRow = slopePixelsPerFrame * rowTimeFrames;
  const seen = Math.tan((tilt.degrees * Math.PI) / 180);
  const stretch = 1 + (perRow * (y2 - y1)) / length;
  const tangent = (seen - (perRow * (x2 - x1)) / length) / stretch;
  return {
    degrees: (Math.atan(tangent) * 180) / Math.PI,
    standardUncertaintyDegrees:
      (tilt.standardUncertaintyDegrees * (1 + seen ** 2)) / Math.abs(stretch) / (1 + tangent ** 2),
  };
}
