import { type FoundInChannel, followChannels } from "./find/follow-channels.js";
import { findCrossing } from "./first-look/find-crossing.js";
import type { Found } from "./one-front/follow-divided.js";
import { pauseFor } from "./pause.js";
import { bandsOf, frameRange } from "./streak/bands-of.js";
import { readDepartures } from "./streak/read-departures.js";
import { readStreaks, type StripedStreak } from "./streak/read-streak.js";
import { unlitFrames } from "./streak/unlit-frames.js";
import { withoutFrames } from "./streak/without-frames.js";
import { convertedBand, frameTiming } from "./timing/frame-timing.js";
import { describeTrack } from "./track/describe-track.js";
import { motionWarning } from "./track/motion-warning.js";
import { convertedClip, notFound, publicStreak, severalFronts } from "./track/not-found.js";
import { streakWarnings } from "./track/track-warnings.js";
import { unlitWarning } from "./track/unlit-warning.js";
import type { FrameSource, TrackOptions, TrackOutcome } from "./types.js";

/** Follows a bright or dark front along a path through a frame sequence: streak, change in time, first line, joint
 *  fit of line, blur and levels, position and uncertainty in every frame; in brightness, or in the departures of single
 *  pixels where brightness does not show it.
 *  @throws RangeError on a path outside the picture or of zero length, a width below 1, an exposure fraction outside
 *    0..1, a front that is not a whole number >= 1, a frame range that holds no frame, a sample that is not a finite number; the signal's reason when
 *    aborted */
export async function trackFront(source: FrameSource, options: TrackOptions = {}): Promise<TrackOutcome> {
  const { exposureFraction, front, signal, onProgress } = options;
  if (front !== undefined && !(Number.isInteger(front) && front >= 1))
    throw new RangeError(`front must be a whole number >= 1, got ${front}`);
  if (exposureFraction !== undefined && !(exposureFraction > 0 && exposureFraction <= 1))
    throw new RangeError(`exposureFraction must be > 0 and <= 1, got ${exposureFraction}`);
  const { start, end } = frameRange(source, options);
  const bands = bandsOf(source, options);
  const streaks = await readStreaks(source, bands, start, end, options);
  const unlit = unlitFrames(streaks[0]).map((frame) => streaks[0].storedNumbers[frame]);
  if (unlit.length > 0) {
    const inLight = await trackFront(withoutFrames(source, unlit), options);
    return { ...inLight, warnings: [unlitWarning(unlit), ...inLight.warnings] };
  }
  const sign = options.polarity === undefined ? 0 : options.polarity === "bright" ? 1 : -1;
  const pause = pauseFor(signal);
  const timed = streaks.map((streak, k) => ({
    streak,
    timing: frameTiming(streak),
    readAcross: async (acrossPixels: Float64Array) => {
      const band = { path: streak.path, width: bands[k].width };
      const [again] = await readStreaks(source, [band], start, end, { ...options, acrossPixels });
      return again;
    },
  }));
  const converted = convertedBand(timed);
  if (converted) return convertedClip(converted.streak, converted.message);
  const isPathGiven = pathIsGiven(options);
  const found = await followChannels(
    timed,
    { sign, exposureFraction, isPathGiven, pause },
    () => readDepartures(source, bands, start, end, options),
    onProgress,
  );
  const outcome = outcomeOf(found, options);
  const moved = motionWarning(found.motion);
  // Texture that moves is alike over many rows, too, and is no noise.
  const own = outcome.warnings.filter(({ code }) => moved.length === 0 || code !== "samples-correlated");
  return { ...outcome, warnings: [...found.warnings, ...own, ...moved] };
}

function pathIsGiven({ path, isPathFound = false }: TrackOptions): boolean {
  return path !== undefined && !isPathFound;
}

/** Decides between the outcomes. */
function outcomeOf(inChannel: FoundInChannel, options: TrackOptions): TrackOutcome {
  const { streak, readings } = inChannel;
  const { fronts } = readings;
  const wanted = options.front ?? 1;
  if (fronts.length > 1 ? options.front === undefined || wanted > fronts.length : wanted > 1)
    return severalFronts(streak, fronts, options);
  const found = fronts[wanted - 1];
  if (found.front) return describeTrack(inChannel, found, found.front, options);
  return crossedOrNotFound(streak, found, options);
}

function crossedOrNotFound(streak: StripedStreak, found: Found, options: TrackOptions): TrackOutcome {
  const [frames, positions] = streak.shape;
  const crossing = findCrossing({ data: streak.data, frames, positions }, found.look.noise);
  // One change of everything between two frames may be a lamp; a given path says where a front was expected.
  if (!crossing || !(crossing.seenUnderway || pathIsGiven(options))) return notFound(streak, found);
  const lastFrameBefore = streak.frameNumbers[crossing.lastBefore];
  const firstFrameAfter = streak.frameNumbers[crossing.firstAfter];
  const warnings = [...streakWarnings(streak)];
  if (!crossing.seenUnderway)
    warnings.push({
      code: "crossing-not-seen",
      message: `the whole path changed between frame ${streak.storedNumbers[crossing.lastBefore]} and frame ${streak.storedNumbers[crossing.firstAfter]}, and no frame shows the front under way: a lamp or a flash would look the same`,
    });
  return {
    status: "crossed",
    lastFrameBefore,
    firstFrameAfter,
    lengthPixels: crossing.lengthPixels,
    polarity: crossing.polarity,
    streak: publicStreak(streak),
    warnings,
  };
}
