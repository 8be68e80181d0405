import type { TrackOutcome } from "@frontpace/tracker";

type Point = readonly [x: number, y: number];

/** What was followed in rays, with one of them in the picture as its path. That neighbouring samples are alike is not said: rays that are read
 *  between pixels, and closer than these near the origin, are so in the rawest frames. */
export function inPicture(outcome: TrackOutcome, ray: readonly [Point, Point]): TrackOutcome {
  const streak = { ...outcome.streak, path: ray };
  const warnings = outcome.warnings.filter(({ code }) => code !== "samples-correlated");
  if (outcome.status !== "tracked") return { ...outcome, streak, warnings };
  const [[x1, y1], [x2, y2]] = ray;
  const length = Math.hypot(x2 - x1, y2 - y1);
  const sense = Math.sign(outcome.track.line.slopePixelsPerFrame);
  const direction = [(sense * (x2 - x1)) / length, (sense * (y2 - y1)) / length] as const;
  return { ...outcome, streak, warnings, track: { ...outcome.track, direction, tilt: null } };
}
