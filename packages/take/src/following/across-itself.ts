import type { FrontShape } from "@frontpace/arrival";
import type { FrameSource, FrontTrack, TrackOutcome } from "@frontpace/tracker";
import { pathOf } from "../path/path-of.js";
import { tiltAtOnce } from "../path/tilt-at-once.js";
import type { FrameRange } from "../settings/check-against-frames.js";
import { bendsLengths, rowTimeFrames, type Settings } from "../settings/settle.js";
import type { MeasureContext } from "../types.js";
import { type InPlane, NEARLY, TOLD } from "./front-in-plane.js";
import { inscribedBand } from "./inscribed-band.js";
import { trackIn } from "./track-in.js";

type Path = Extract<InPlane["along"], { kind: "path" }>;

/** A front that was followed along rows or columns and meets them at an angle, followed across itself. A faint one shows no shape in its arrivals, one
 *  of few frames has none, and its angle is in the tracker, which has the whole picture: along the rows it would be reported at its trace speed.
 *  @param shape  by its arrivals; null where there is no map
 *  @returns null where a path or one of several fronts is asked for, it meets the rows squarely, the angle is not told, or nothing is followed that
 *    way */
export async function acrossItself(
  outcome: TrackOutcome,
  shape: FrontShape["shape"] | null,
  frames: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<{ readonly outcome: TrackOutcome; readonly along: Path } | null> {
  const { path: asked, front, calibration } = settings;
  if (outcome.status !== "tracked" || asked || front !== null || bendsLengths(calibration)) return null;
  if (shape === "none" || shape === "circle") return null;
  const tilt = tiltOf(outcome, settings);
  if (!tilt || !(Math.abs(tilt.degrees) > Math.max(NEARLY, TOLD * tilt.standardUncertaintyDegrees)))
    return null;
  const [[x1, y1], [x2, y2]] = outcome.streak.path;
  // Positive where the front lies further along on the right-hand side: its normal is turned to the left by as much.
  const angle = Math.atan2(y2 - y1, x2 - x1) - (tilt.degrees * Math.PI) / 180;
  const band = inscribedBand(frames, angle);
  if (!band) return null;
  const along: Path = {
    kind: "path",
    path: band.path,
    width: Math.min(settings.width ?? band.width, band.width),
  };
  const { path, width } = along;
  const again = await trackIn(
    frames,
    { ...settings, path: pathOf(path), isPathFound: true, width },
    range,
    context,
  );
  if (again.status !== "tracked") return null;
  const { degrees } = tiltOf(again, settings) ?? { degrees: 0 };
  return Math.abs(degrees) < Math.abs(tilt.degrees) / 2 ? { outcome: again, along } : null;
}

/** Not as it is seen where rows are read in turn: a square front looks tilted then, and would be measured along a path across which it does not lie. */
function tiltOf(
  { track, streak }: Extract<TrackOutcome, { status: "tracked" }>,
  settings: Settings,
): FrontTrack["tilt"] {
  return tiltAtOnce(track.tilt, track.line.slopePixelsPerFrame, streak.path, rowTimeFrames(settings));
}
