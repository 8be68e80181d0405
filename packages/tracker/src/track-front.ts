import { describeTrack } from "./describe-track.js";
import { findCrossing } from "./find-crossing.js";
import { type FoundInChannel, followChannels } from "./follow-channels.js";
import type { Found } from "./follow-divided.js";
import { frameTiming } from "./frame-timing.js";
import { motionWarning } from "./motion-warning.js";
import { convertedClip, notFound, publicStreak, severalFronts } from "./not-found.js";
import { pauseFor } from "./pause.js";
import { readStreaks, type StripedStreak } from "./read-streak.js";
import type { Band } from "./sampler.js";
import { streakWarnings } from "./track-warnings.js";
import type { FrameSource, TrackOptions, TrackOutcome } from "./types.js";

/** Width across a given path, px, where none is stated (common practice, no source). */
const DEFAULT_WIDTH = 15;

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
  // Bands of the whole picture hold the same samples; averaged over fewer, those of the longest tell most of the noise.
  const longest = timed.reduce((a, b) => (b.streak.shape[1] > a.streak.shape[1] ? b : a));
  if (longest.timing.seen === "conversion") return convertedClip(longest.streak, longest.timing.message);
  const isPathGiven = options.path !== undefined;
  const found = await followChannels(timed, { sign, exposureFraction, isPathGiven, pause }, onProgress);
  const outcome = outcomeOf(found, options);
  const moved = motionWarning(found.motion);
  // Texture that moves is alike over many rows, too, and is no noise.
  const own = outcome.warnings.filter(({ code }) => moved.length === 0 || code !== "samples-correlated");
  return { ...outcome, warnings: [...found.warnings, ...own, ...moved] };
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

function frameRange(source: FrameSource, { firstFrame, lastFrame }: TrackOptions) {
  const { numbers } = source;
  if (numbers.length === 0) throw new RangeError("source must hold at least one frame, got none");
  const first = firstFrame ?? numbers[0];
  const last = lastFrame ?? numbers[numbers.length - 1];
  const start = numbers.findIndex((number) => number >= first);
  const end = numbers.findLastIndex((number) => number <= last) + 1;
  if (start < 0 || end <= start)
    throw new RangeError(
      `frames ${first}..${last} hold none of the take's frames ${numbers[0]}..${numbers[numbers.length - 1]}`,
    );
  return { start, end };
}

/** The given path, or the whole picture along its rows and along its columns. */
function bandsOf({ rows, columns }: FrameSource, { path, width }: TrackOptions): Band[] {
  if (width !== undefined && !(width >= 1)) throw new RangeError(`width must be >= 1, got ${width}`);
  if (path) {
    for (const [x, y] of path)
      if (!(x >= 0 && x <= columns - 1 && y >= 0 && y <= rows - 1))
        throw new RangeError(`path must lie inside x 0..${columns - 1}, y 0..${rows - 1}, got (${x}, ${y})`);
    const [[x1, y1], [x2, y2]] = path;
    if (!(Math.hypot(x2 - x1, y2 - y1) >= 1))
      throw new RangeError(`path must be at least 1 px long, got (${x1}, ${y1}) to (${x2}, ${y2})`);
    return [{ path, width: width ?? DEFAULT_WIDTH }];
  }
  const middleRow = (rows - 1) / 2;
  const middleColumn = (columns - 1) / 2;
  const bands: Band[] = [];
  if (columns > 1)
    bands.push({
      path: [
        [0, middleRow],
        [columns - 1, middleRow],
      ],
      width: width ?? rows,
    });
  if (rows > 1)
    bands.push({
      path: [
        [middleColumn, 0],
        [middleColumn, rows - 1],
      ],
      width: width ?? columns,
    });
  if (bands.length === 0) throw new RangeError(`a picture of one pixel has no path`);
  return bands;
}

function crossedOrNotFound(streak: StripedStreak, found: Found, options: TrackOptions): TrackOutcome {
  const [frames, positions] = streak.shape;
  const crossing = findCrossing({ data: streak.data, frames, positions }, found.look.noise);
  // One change of everything between two frames may be a lamp; a given path says where a front was expected.
  if (!crossing || !(crossing.seenUnderway || options.path)) return notFound(streak, found);
  const lastFrameBefore = streak.frameNumbers[crossing.lastBefore];
  const firstFrameAfter = streak.frameNumbers[crossing.firstAfter];
  const warnings = [...streakWarnings(streak)];
  if (!crossing.seenUnderway)
    warnings.push({
      code: "crossing-not-seen",
      message: `the whole path changed between frame ${lastFrameBefore} and frame ${firstFrameAfter}, and no frame shows the front under way: a lamp or a flash would look the same`,
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
