import { findOutliers } from "@frontpace/fit";
import { sumOfSquaresAtOnce } from "./change-at-once.js";
import { type FirstLook, findFront } from "./find-front.js";
import { type FollowedFront, followFront } from "./follow-front.js";
import { residualField } from "./front-model.js";
import { type JointFit, jointFit, stateOf } from "./joint-fit.js";
import { measureTilt } from "./measure-tilt.js";
import { type Band, readStreaks, type StripedStreak } from "./read-streak.js";
import { startMotions } from "./start-motions.js";
import type {
  FrameSource,
  FrontTrack,
  Polarity,
  Streak,
  TrackOptions,
  TrackOutcome,
  TrackWarning,
} from "./types.js";

/** Width across a given path, px, where none is stated (common practice, no source). */
const DEFAULT_WIDTH = 15;
/** A speed whose relative standard uncertainty is larger than this is not called measured: the fit is linearised, and
 *  beyond it the interval no longer holds what it says (seen in trials). */
const LEAST_RELATIVE_UNCERTAINTY = 0.15;

/** A fit that leaves less than this times the noise explains the streak. */
const ADEQUATE = 1.5;
/** Fits that leave up to this times the least are compared by the sureness of their motion. */
const COMPARABLE = 1.5;
/** What a pulse must explain beyond a step, in units of the noise variance: five standard deviations. */
const PULSE_COST = 25;
/** What a moving front must explain beyond any change of all positions at once, in units of the noise variance,
 *  besides what its own levels explain of the noise: seven standard deviations of one parameter (common practice,
 *  no source). */
const LEAST_PROPAGATION = 50;

/** Follows a bright or dark front along a path through a frame sequence.
 *  @throws RangeError on a path outside the picture or of zero length, a width below 1, a frame range outside the
 *    take; the signal's reason when aborted */
export async function trackFront(source: FrameSource, options: TrackOptions = {}): Promise<TrackOutcome> {
  const { start, end } = frameRange(source, options);
  const bands = options.path
    ? [{ path: options.path, width: options.width ?? DEFAULT_WIDTH }]
    : wholePictureBands(source);
  const streaks = await readStreaks(source, bands, start, end, options);
  const sign = options.polarity === undefined ? 0 : options.polarity === "bright" ? 1 : -1;
  const looks = streaks.map((streak) => ({
    streak,
    look: findFront(streak.data, streak, noiseFloorOf(source, streak), sign),
  }));
  const { streak, look } = looks.reduce((best, next) => (next.look.weight > best.look.weight ? next : best));
  const found = followBest(streak, look, noiseFloorOf(source, streak), options);
  if (!found) return notFound(streak, look);
  return describe(streak, found, options);
}

function frameRange(source: FrameSource, { firstFrame, lastFrame }: TrackOptions) {
  const { numbers } = source;
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

function wholePictureBands({ rows, columns }: FrameSource): Band[] {
  return [
    {
      path: [
        [0, (rows - 1) / 2],
        [columns - 1, (rows - 1) / 2],
      ],
      width: rows,
    },
    {
      path: [
        [(columns - 1) / 2, 0],
        [(columns - 1) / 2, rows - 1],
      ],
      width: columns,
    },
  ];
}

/** Rounding to whole numbers, averaged over the width, DN. */
function noiseFloorOf({ bitDepth }: FrameSource, { width, data }: StripedStreak): number {
  if (bitDepth <= 16) return Math.sqrt(1 / 12 / width);
  return 1e-7 * data.reduce((largest, value) => Math.max(largest, Math.abs(value)), 1e-30);
}

function followBest(
  streak: StripedStreak,
  look: FirstLook,
  noiseFloor: number,
  { exposureFraction }: TrackOptions,
): FollowedFront | null {
  const [frames, positions] = streak.shape;
  const field = { data: streak.data, frames, positions };
  const fits = look.candidates.flatMap(({ shape, line }) =>
    startMotions(line, shape, streak.frameNumbers, positions, exposureFraction).map((start) =>
      jointFit(field, streak.frameNumbers, start),
    ),
  );
  const best = surestFit(fits, look.noise ** 2, frames * positions);
  if (!best) return null;
  const apart = sumOfSquaresAtOnce(field) - sumOfSquaresAtOnce(residualField(field, best.state, best.models));
  if (apart < (LEAST_PROPAGATION + 2 * positions) * look.noise ** 2) return null;
  return followFront(field, streak.frameNumbers, best, noiseFloor ** 2);
}

/** The fit that explains most, where it explains the streak down to its noise; else, where something besides the
 *  front changes (a drift of the light), of those that explain nearly as much the one whose motion is surest. A
 *  pulse is believed only where it explains clearly more than a step.
 *  @param noiseVariance  of a sample, from differences in time */
function surestFit(fits: readonly JointFit[], noiseVariance: number, samples: number): JointFit | null {
  const cost = ({ motion, sumOfSquares }: JointFit) =>
    sumOfSquares + (motion.shape === "pulse" ? PULSE_COST * noiseVariance : 0);
  const closest = fits.reduce<JointFit | null>(
    (best, fit) => (!best || cost(fit) < cost(best) ? fit : best),
    null,
  );
  if (!closest || closest.sumOfSquares < ADEQUATE * noiseVariance * samples) return closest;
  return fits
    .filter((fit) => cost(fit) < COMPARABLE * cost(closest))
    .reduce((best, fit) => (fit.significance > best.significance ? fit : best));
}

function notFound(streak: StripedStreak, look: FirstLook): TrackOutcome {
  return {
    status: "not-found",
    reason: look.verdict === "at-once" ? "no-propagation-seen" : "no-change",
    message: "",
    streak: publicStreak(streak),
    warnings: [],
  };
}

function publicStreak({ data, shape, frameNumbers, path, width }: StripedStreak): Streak {
  return { data, shape, frameNumbers, path, width };
}

function describe(streak: StripedStreak, found: FollowedFront, _options: TrackOptions): TrackOutcome {
  const { line, motion } = found;
  const warnings: TrackWarning[] = [];
  const outliers = new Set(
    findOutliers(
      found.positionPixels.map(
        (p, k) => p - line.intercept - line.slope * streak.frameNumbers[found.frames[k]],
      ),
      found.standardUncertaintyPixels.map((u) => Math.hypot(u, line.wander.standardDeviation)),
    ),
  );
  const unsure = Math.max(line.slopeStandardUncertainty, Math.abs(line.slope - motion.slopePixelsPerFrame));
  if (unsure > LEAST_RELATIVE_UNCERTAINTY * Math.abs(motion.slopePixelsPerFrame))
    return {
      status: "not-found",
      reason: "not-resolved",
      message: "",
      streak: publicStreak(streak),
      warnings,
    };
  const polarity: Polarity = found.models.reduce((sum, m) => sum + m.change, 0) < 0 ? "dark" : "bright";
  const [[x1, y1], [x2, y2]] = streak.path;
  const length = Math.hypot(x2 - x1, y2 - y1) * Math.sign(line.slope);
  const state = stateOf(motion, streak.frameNumbers, new Float64Array(streak.shape[0]));
  const track: FrontTrack = {
    positions: found.frames.map((i, k) => ({
      frame: streak.frameNumbers[i],
      positionPixels: found.positionPixels[k],
      standardUncertaintyPixels: found.standardUncertaintyPixels[k],
      residualPixels: found.positionPixels[k] - line.intercept - line.slope * streak.frameNumbers[i],
      used: !outliers.has(k),
    })),
    line: {
      interceptPixels: line.intercept,
      slopePixelsPerFrame: line.slope,
      standardUncertaintyPixelsPerFrame: line.slopeStandardUncertainty,
      degreesOfFreedom: line.degreesOfFreedom,
    },
    polarity,
    direction: [(x2 - x1) / length, (y2 - y1) / length],
    tilt: measureTilt(streak, state, found.noiseVariance),
    firstFrame: streak.frameNumbers[found.frames[0]],
    lastFrame: streak.frameNumbers[found.frames[found.frames.length - 1]],
  };
  return { status: "tracked", track, streak: publicStreak(streak), warnings };
}
