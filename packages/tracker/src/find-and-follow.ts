import { findOutliers } from "@frontpace/fit";
import { chooseFit } from "./choose-fit.js";
import { type FirstLook, findFront } from "./find-front.js";
import { flickerAgainstModel, flickerBetweenFrames } from "./flicker.js";
import { type FollowedFront, followFront } from "./follow-front.js";
import { modelledLevel } from "./front-model.js";
import { type FrontMotion, jointFit, smearOf } from "./joint-fit.js";
import { measureTilt, type Tilt } from "./measure-tilt.js";
import { foreignFrames } from "./noise.js";
import type { StripedStreak } from "./read-streak.js";

/** What was found in one streak. */
export interface Found {
  readonly look: FirstLook;
  readonly front: FollowedFront | null;
  /** Of the front against the path; null where the width shows none. */
  readonly tilt: Tilt | null;
  /** Indices of the frames that were worked on, increasing; those of `front` count in these. */
  readonly kept: readonly number[];
  /** Indices of frames that have nothing to do with those beside them, left out from the beginning. */
  readonly foreign: readonly number[];
  /** Frames whose position did not fit, taken out whole. */
  readonly rejected: readonly RejectedFrame[];
  /** Brightness of the whole picture by which each frame was divided, shape (frames,), or null. */
  readonly gain: Float64Array | null;
}

interface RejectedFrame {
  /** Index in the streak. */
  readonly frame: number;
  readonly positionPixels: number;
  readonly standardUncertaintyPixels: number;
}

export interface FollowOptions {
  /** Standard deviation of a sample that rounding alone gives. */
  readonly noiseFloor: number;
  /** Count only changes of this sign; 0: both. */
  readonly sign: -1 | 0 | 1;
  readonly exposureFraction: number | undefined;
}

/** Finds and follows the front in one streak; where the brightness of the whole picture flickers, that is divided
 *  out first, from frame to frame and then against the front's own model, and the surer of the two readings is
 *  kept. */
export function findAndFollow(streak: StripedStreak, options: FollowOptions): Found {
  const plain = followDivided(streak, null, options);
  let gain = flickerBetweenFrames(streak.data, streak.shape, plain.look.noise);
  if (!gain) return plain;
  let divided = followDivided(streak, gain, options);
  for (let round = 0; divided.front && round < FLICKER_ROUNDS; round++) {
    gain = againstModel(streak, divided);
    if (!gain) return plain;
    const next = followDivided(streak, gain, options);
    const moved = Math.abs((next.front?.line.slope ?? 0) - divided.front.line.slope);
    divided = next;
    if (next.front && moved < SETTLED * next.front.line.slopeStandardUncertainty) break;
  }
  return surer(plain, divided);
}

/** Rounds of: brightness against the model, then the model again; until the slope moves by less than a small part
 *  of its uncertainty. */
const FLICKER_ROUNDS = 6;
const SETTLED = 0.05;

function againstModel(streak: StripedStreak, { front, kept, look }: Found): Float64Array | null {
  if (!front) return null;
  const { models, state } = front;
  const place = new Map(kept.map((frame, k) => [frame, k]));
  return flickerAgainstModel(streak.data, streak.shape, look.noise, models, (model, frame) => {
    const k = place.get(frame);
    return k === undefined || model.near.includes(k) ? null : modelledLevel(model, state, k);
  });
}

function surer(plain: Found, divided: Found): Found {
  const unsure = ({ front }: Found) =>
    front ? front.line.slopeStandardUncertainty / Math.abs(front.line.slope) : Number.POSITIVE_INFINITY;
  return unsure(plain) < unsure(divided) ? plain : divided;
}

/** The streak as it is worked on: flicker divided out, rejected frames left out. */
interface Worked {
  readonly numbers: readonly number[];
  /** Row-major, shape [kept frames, positions]; of the whole width and of its parts. */
  readonly data: Float64Array;
  readonly strips: readonly Float64Array[];
}

function workedOn(streak: StripedStreak, gain: Float64Array | null, kept: readonly number[]): Worked {
  const positions = streak.shape[1];
  const linesOf = (data: Float64Array) => {
    const lines = new Float64Array(kept.length * positions);
    kept.forEach((frame, k) => {
      const divisor = gain ? gain[frame] : 1;
      for (let p = 0; p < positions; p++) lines[k * positions + p] = data[frame * positions + p] / divisor;
    });
    return lines;
  };
  return {
    numbers: kept.map((frame) => streak.frameNumbers[frame]),
    data: linesOf(streak.data),
    strips: streak.strips.map(linesOf),
  };
}

/** Frames whose position does not fit are taken out whole, levels and all, this many times at most. */
const REJECTIONS = 3;
/** A tilt that spreads the front by this part of its blur or more is fitted as a ramp, until the ramp's length
 *  changes by less than the second part. */
const LEAST_SPREAD = 0.7;
const SETTLED_SPREAD = 0.1;
const TILT_ROUNDS = 4;

function followDivided(
  streak: StripedStreak,
  gain: Float64Array | null,
  { noiseFloor, sign, exposureFraction }: FollowOptions,
): Found {
  const positions = streak.shape[1];
  const foreign = foreignFrames(streak.data, streak.shape, noiseFloor);
  let kept = Array.from(streak.frameNumbers.keys()).filter((i) => !foreign.includes(i));
  let worked = workedOn(streak, gain, kept);
  const field = () => ({ data: worked.data, frames: kept.length, positions });
  const follow = (motion: FrontMotion) =>
    followFront(field(), worked.numbers, jointFit(field(), worked.numbers, motion), noiseFloor ** 2);

  const look = findFront(worked.data, worked.numbers, positions, noiseFloor, sign);
  const start = chooseFit(field(), worked.numbers, look, exposureFraction);
  const rejected: RejectedFrame[] = [];
  let front = start && followFront(field(), worked.numbers, start, noiseFloor ** 2);
  for (let round = 0; front && round < REJECTIONS; round++) {
    const outliers = outliersOf(front, worked.numbers);
    if (outliers.length === 0) break;
    for (const k of outliers)
      rejected.push({
        frame: kept[front.frames[k]],
        positionPixels: front.positionPixels[k],
        standardUncertaintyPixels: front.standardUncertaintyPixels[k],
      });
    kept = kept.filter((frame) => !rejected.some((r) => r.frame === frame));
    worked = workedOn(streak, gain, kept);
    front = follow(front.motion);
  }

  const tiltOf = ({ motion, state, noiseVariance }: FollowedFront, expectedDegrees: number) => {
    const spread = motion.tiltSpreadPixels / streak.strips.length;
    const inStrip = { ...state, smearPixels: smearOf({ ...motion, tiltSpreadPixels: spread }) };
    return measureTilt(worked.strips, streak.stripOffsetsPixels, inStrip, noiseVariance, expectedDegrees);
  };
  let tilt = front && tiltOf(front, 0);
  for (let round = 0; front && tilt && round < TILT_ROUNDS; round++) {
    const { motion } = front;
    const spread = streak.width * Math.abs(Math.tan((tilt.degrees * Math.PI) / 180));
    if (Math.abs(tilt.degrees) < 3 * tilt.standardUncertaintyDegrees) break;
    const tolerance = motion.tiltSpreadPixels === 0 ? LEAST_SPREAD : SETTLED_SPREAD;
    if (Math.abs(spread - motion.tiltSpreadPixels) < tolerance * motion.blurPixels) break;
    // Averaged across its width a tilted front is a ramp, not a blur.
    const sharper = motion.blurPixels ** 2 + (motion.tiltSpreadPixels ** 2 - spread ** 2) / 12;
    const blurPixels = Math.sqrt(Math.max(0.25, sharper));
    // Beside a longer ramp an exposure that is only guessed at does better as a part of the blur.
    const guessed = spread > Math.abs(motion.slopePixelsPerFrame) ? 0 : motion.exposureFraction;
    const next = follow({
      ...motion,
      tiltSpreadPixels: spread,
      blurPixels,
      exposureFraction: exposureFraction ?? guessed,
    });
    const nextTilt = next && tiltOf(next, tilt.degrees);
    if (!nextTilt) break;
    front = next;
    tilt = nextTilt;
  }
  return { look, front, tilt, kept, foreign, rejected, gain };
}

function outliersOf(
  { frames, positionPixels, standardUncertaintyPixels, line }: FollowedFront,
  numbers: readonly number[],
): number[] {
  return findOutliers(
    positionPixels.map((p, k) => p - line.intercept - line.slope * numbers[frames[k]]),
    standardUncertaintyPixels.map((u) => Math.hypot(u, line.wander.standardDeviation)),
  );
}
