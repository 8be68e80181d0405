import type { Found } from "../one-front/follow-divided.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontLine, Streak, TrackOptions, TrackOutcome } from "../types.js";
import { frontLine, lineInWords } from "./front-line.js";
import { streakWarnings } from "./track-warnings.js";

/** A speed takes three frames that show the front under way, one before them and one after: fewer explain by themselves
 *  that none was seen to run. */
const FEW = 5;
/** Two fronts run at one speed where theirs differ by less than this part of it, and than so many standard uncertainties. */
const ONE_SPEED = 0.01;
const APART = 3;

/** Why no front was found, and what was looked for. */
export function notFound(
  streak: StripedStreak,
  { look, disbelief }: Pick<Found, "look" | "disbelief">,
): TrackOutcome {
  const [frames, positions] = streak.shape;
  const first = streak.storedNumbers[0];
  const last = streak.storedNumbers[frames - 1];
  const [from, to] = streak.path;
  const where = `along the path from (${from.map(short).join(", ")}) to (${to.map(short).join(", ")}), ${streak.width} px wide, in frames ${first} to ${last}`;
  const answer = (reason: string, message: string): TrackOutcome => ({
    status: "not-found",
    reason,
    message,
    streak: publicStreak(streak),
    warnings: streakWarnings(streak),
  });
  if (frames < 2)
    return answer(
      "too-few-frames",
      `one frame shows no motion: at least two are needed for a bound, three for a speed`,
    );
  if (disbelief === "spot")
    return answer(
      "only-a-spot",
      `looked for a front ${where}: what runs along it covers a small part of the width or of the path, passes and leaves nothing, like a fragment that flies past. If that is the front, give the path that it runs`,
    );
  if (look.verdict === "nothing")
    return answer(
      "no-change",
      `looked for a bright or dark front ${where}: nothing changes by more than the noise (${look.noise.toPrecision(2)} DN) along any straight run over the ${positions} px. Check the frame range, and give the path where the front ran`,
    );
  if (frames < FEW)
    return answer(
      "no-propagation-seen",
      `looked for a front ${where}: the brightness changes, but ${frames} frames are too few to tell whether a front runs. A speed needs at least three frames that show it under way, and others before and after these, which tell the levels ahead of it and behind it: give more frames (--frames) where there are more, or take a higher rate or a longer path. If no front ran, a lamp, a change of exposure or glints look like this`,
    );
  return answer(
    "no-propagation-seen",
    `looked for a front ${where}: the brightness changes, but not as one front that runs along the path: everywhere at once, as under a lamp or a change of exposure, in several places or senses (glints, fragments), or too briefly to tell a direction. If a front did run, give the path and the frames where it did; a speed needs at least three frames that show it under way, and frames before and after them: a higher rate or a longer path gives more`,
  );
}

/** A clip whose frames are not those that the camera took. */
export function convertedClip(streak: StripedStreak, seen: string): TrackOutcome {
  return {
    status: "not-found",
    reason: "interpolated-export",
    message: `${seen}, as conversion to another rate leaves them: the frames do not show the times that their numbers say, so there is no speed. Export the original frames as the camera recorded them, without a change of rate, and without blending or repeating frames`,
    streak: publicStreak(streak),
    warnings: streakWarnings(streak),
  };
}

/** Several fronts run on the path and none was chosen, or one that is not there. */
export function severalFronts(
  streak: StripedStreak,
  found: readonly Found[],
  { front }: Pick<TrackOptions, "front">,
): TrackOutcome {
  const fronts = found.flatMap((one) => frontLine(streak, one) ?? []);
  const listed = fronts.map((line, k) => `${k + 1}: ${lineInWords(line, streak)}`).join("; ");
  const seen =
    fronts.length === 0
      ? "no front is seen"
      : `${fronts.length} ${fronts.length === 1 ? "front is" : "fronts are"} seen (${listed})`;
  const tail = { fronts, streak: publicStreak(streak), warnings: streakWarnings(streak) };
  if (front !== undefined) {
    const message = `front ${front} was asked for, but along the path ${seen}`;
    return { status: "not-found", reason: "front-not-there", message, ...tail };
  }
  const message = isOneBand(fronts)
    ? `along the path ${seen}: they run at one speed, and may be the two edges of one band that passes. Look at the pictures, and choose one by its number; if something else runs there, give a path and frames in which only one does`
    : `along the path ${seen}: one speed does not describe them. Choose a front by its number, or give a path and frames in which only one runs`;
  return { status: "not-found", reason: "several-fronts", message, ...tail };
}

/** Whether two fronts run at one speed, as the edges of what passes do. */
function isOneBand(fronts: readonly FrontLine[]): boolean {
  if (fronts.length !== 2) return false;
  const [a, b] = fronts;
  const apart = Math.abs(a.slopePixelsPerFrame - b.slopePixelsPerFrame);
  const standardUncertainty = Math.hypot(
    a.standardUncertaintyPixelsPerFrame,
    b.standardUncertaintyPixelsPerFrame,
  );
  return apart < ONE_SPEED * Math.abs(a.slopePixelsPerFrame) && apart < APART * standardUncertainty;
}

export function publicStreak(streak: StripedStreak): Streak {
  const { data, departures, shape, frameNumbers, path, width, effectiveRows } = streak;
  return { data, ...(departures && { departures }), shape, frameNumbers, path, width, effectiveRows };
}

function short(value: number): string {
  return String(Math.round(value * 10) / 10);
}
