import { studentFactor } from "@frontpace/fit";
import type { PictureMotion } from "../find/find-steadied.js";
import type { FoundInChannel } from "../find/follow-channels.js";
import { depthOf } from "../light/flicker.js";
import { modelPositions } from "../model/front-model.js";
import { workedStreak } from "../model/worked-streak.js";
import type { Found } from "../one-front/follow-divided.js";
import { type FollowedFront, relativeUncertainty } from "../one-front/follow-front.js";
import { MOST_UNSURE } from "../one-front/unsureness.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontPosition, Polarity, TrackOptions, TrackOutcome } from "../types.js";
import { frontDefinition } from "./front-definition.js";
import { alternativesOf, frontLine, lineInWords } from "./front-line.js";
import { frontLook } from "./front-look.js";
import { motionContribution } from "./motion-contribution.js";
import { publicStreak } from "./not-found.js";
import { straightenedChord, straightenedFront } from "./straightened-front.js";
import { streakWarnings, trackWarnings } from "./track-warnings.js";

/** The track of a followed front, or why it is none. */
export function describeTrack(
  { streak, readings: { fronts, others }, channel, timeBase, motion }: FoundInChannel,
  found: Found,
  front: FollowedFront,
  options: TrackOptions,
): TrackOutcome {
  const straight = options.straighten?.(streak.path);
  const numbers = found.kept.map((frame) => streak.frameNumbers[frame]);
  const even = evenFront(front, straight, found.parts ? numbers : null);
  const { line } = even;
  if (!isResolved(front))
    return {
      status: "not-found",
      reason: "not-resolved",
      message: `something runs along the path, but in these frames it moves too little for its width and noise to tell how fast: the speed could not be told to ${100 * MOST_UNSURE} %, or from standing still. More frames, a longer path or a wider band would help`,
      streak: publicStreak(streak),
      warnings: streakWarnings(streak),
    };

  const positions = positionsOf(streak, found, front, motion, { line, straight });
  const warnings = trackWarnings(streak, found, even, straightPositions(positions, straight), options);
  if (channel === "departures")
    warnings.push({
      code: "ragged-front",
      message:
        "the front shows in the departures of single pixels from their levels before, as the ragged edge of a cloud of bright and dark changes. Each crack keeps its lead or lag for as long as it is seen, so the interval can be too narrow: compare parts of the way by their frames",
    });
  if (found.gain) {
    warnings.push({
      code: "flicker-divided-out",
      message: `the brightness of the whole picture varies by ${(100 * depthOf(found.gain)).toFixed(1)} % over these frames; that was divided out`,
    });
  }
  const alternatives = fronts.length === 1 ? alternativesOf(streak, found, others) : [];
  if (alternatives.length > 0)
    warnings.push({
      code: "ambiguous-front",
      message: `the first and the strongest changes along the path lie on different lines: the speed is that of the surer one, ${Math.abs(line.slope).toPrecision(3)} px a frame; another runs ${alternatives.map((other) => lineInWords(other, streak)).join("; another ")}. Look at the streak which of them is the front`,
    });
  const [[x1, y1], [x2, y2]] = streak.path;
  const length = Math.hypot(x2 - x1, y2 - y1) * Math.sign(line.slope);
  const used = positions.filter((position) => position.used);
  return {
    status: "tracked",
    track: {
      channel,
      positions,
      line: {
        interceptPixels: line.intercept,
        slopePixelsPerFrame: line.slope,
        standardUncertaintyPixelsPerFrame: line.slopeStandardUncertainty,
        degreesOfFreedom: line.degreesOfFreedom,
        wanderShare: line.rule === "wander" ? 1 - line.readingShare : null,
        contributions: {
          frontDefinition: frontDefinition(front, numbers),
          timeBase,
          motion: motionContribution(
            motion,
            used.map(({ frame, standardUncertaintyPixels: u }) => ({
              frame,
              weight: 1 / (u * u + line.wander.standardDeviation ** 2),
            })),
            line.slopeStandardUncertainty,
          ),
          modelChoice:
            found.slopeOpenPixels === undefined
              ? { notEvaluated: "a constant speed between constant levels is the only model" }
              : {
                  standardUncertaintyPixelsPerFrame: found.slopeOpenPixels,
                  degreesOfFreedom: Number.POSITIVE_INFINITY,
                },
        },
      },
      shape: front.motion.shape,
      polarity: polarityOf(channel === "brightness" ? front.models : brightnessModels(streak, found, front)),
      // || 0: no minus zero in the result.
      direction: [(x2 - x1) / length || 0, (y2 - y1) / length || 0],
      tilt: found.tilt && {
        degrees: found.tilt.degrees,
        standardUncertaintyDegrees: found.tilt.standardUncertaintyDegrees,
      },
      look: frontLook(front, streak, channel, found.stripsLeftOut),
      firstFrame: used[0].frame,
      lastFrame: used[used.length - 1].frame,
    },
    fronts: fronts.flatMap((one) => frontLine(streak, one) ?? []),
    alternatives,
    streak: publicStreak(streak),
    warnings,
  };
}

/** Whether the speed is told: to a small part of itself, and from standing still, which of three frames takes more. */
function isResolved(front: FollowedFront): boolean {
  const unsure = relativeUncertainty(front);
  return unsure < MOST_UNSURE && studentFactor(front.line.degreesOfFreedom) * unsure < 1;
}

/** Brightness at the positions under a front that was followed in the departures. */
function brightnessModels(streak: StripedStreak, { kept }: Found, { state }: FollowedFront) {
  const { field } = workedStreak(streak, null, kept);
  return modelPositions(field, state);
}

/** Sign of the change, each position weighing as much as is known of its change. */
function polarityOf(models: FollowedFront["models"]): Polarity {
  const sum = models.reduce(
    (total, { change, inverse }) => total + (inverse[2] > 0 ? change / inverse[2] : 0),
    0,
  );
  return sum < 0 ? "dark" : "bright";
}

/** The line, and where positions go before it is laid through them. */
interface Straightened {
  readonly line: FollowedFront["line"];
  readonly straight: ((positionPixels: number) => number) | undefined;
}

/** The front as it would be seen square on.
 *  @param numbers  of the frames, where its way was followed in parts */
function evenFront(
  front: FollowedFront,
  straight: Straightened["straight"],
  numbers: readonly number[] | null,
): FollowedFront {
  if (!straight) return front;
  return numbers ? straightenedChord(front, straight, numbers) : straightenedFront(front, straight);
}

/** Positions as the warnings look at them. */
function straightPositions(
  positions: readonly FrontPosition[],
  straight: Straightened["straight"],
): readonly FrontPosition[] {
  return straight
    ? positions.map((one) => ({ ...one, positionPixels: straight(one.positionPixels) }))
    : positions;
}

function positionsOf(
  streak: StripedStreak,
  found: Found,
  front: FollowedFront,
  { shift, kept }: PictureMotion,
  { line, straight = (pixels) => pixels }: Straightened,
): FrontPosition[] {
  // Of what was subtracted from the frame's position.
  const steadying = (frame: number) => (shift && kept ? shift.standardUncertaintyPixels[kept[frame]] : 0);
  const seen = front.frames.map((k, n) => ({
    frame: found.kept[k],
    positionPixels: front.positionPixels[n],
    standardUncertaintyPixels: front.standardUncertaintyPixels[n],
    used: true,
  }));
  return [...seen, ...found.rejected.map((rejected) => ({ ...rejected, used: false }))]
    .sort((a, b) => a.frame - b.frame)
    .map(({ frame, positionPixels, standardUncertaintyPixels, used }) => {
      const number = streak.storedNumbers[frame];
      const timeFrames = streak.frameNumbers[frame];
      const residualPixels = straight(positionPixels) - line.intercept - line.slope * timeFrames;
      const position = {
        frame: number,
        positionPixels,
        standardUncertaintyPixels: Math.hypot(standardUncertaintyPixels, steadying(frame)),
        residualPixels,
        used,
      };
      return timeFrames === number ? position : { ...position, timeFrames };
    });
}
