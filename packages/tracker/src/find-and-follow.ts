import { findOutliers } from "@frontpace/fit";
import { chooseFit } from "./choose-fit.js";
import { type FirstLook, findFront } from "./find-front.js";
import { flickerAgainstModel, flickerBetweenFrames } from "./flicker.js";
import { type FollowedFront, followFront } from "./follow-front.js";
import { modelledLevel } from "./front-model.js";
import { jointFit } from "./joint-fit.js";
import type { StripedStreak } from "./read-streak.js";

/** What was found in one streak. */
export interface Found {
  readonly look: FirstLook;
  readonly front: FollowedFront | null;
  /** Indices of the frames that were worked on, increasing; those of `front` count in these. */
  readonly kept: readonly number[];
  /** Frames whose position did not fit, taken out whole. */
  readonly rejected: readonly RejectedFrame[];
  /** Brightness of the whole picture by which each frame was divided, shape (frames,), or null. */
  readonly gain: Float64Array | null;
}

export interface RejectedFrame {
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
  const rough = flickerBetweenFrames(streak.data, streak.shape, plain.look.noise);
  if (!rough) return plain;
  const first = followDivided(streak, rough, options);
  if (!first.front) return surer(plain, first);
  const { models, state } = first.front;
  const place = new Map(first.kept.map((frame, k) => [frame, k]));
  const gain = flickerAgainstModel(streak.data, streak.shape, models, (model, frame) => {
    const k = place.get(frame);
    return k === undefined || model.near.includes(k) ? null : modelledLevel(model, state, k);
  });
  return surer(plain, followDivided(streak, gain, options));
}

function surer(plain: Found, divided: Found): Found {
  const unsure = ({ front }: Found) =>
    front ? front.line.slopeStandardUncertainty / Math.abs(front.line.slope) : Number.POSITIVE_INFINITY;
  return unsure(plain) < unsure(divided) ? plain : divided;
}

/** The lines `kept` of a streak, each divided by its brightness. */
export function workedOn(
  data: Float64Array,
  positions: number,
  { gain, kept }: Pick<Found, "gain" | "kept">,
): Float64Array {
  const lines = new Float64Array(kept.length * positions);
  kept.forEach((frame, k) => {
    const divisor = gain ? gain[frame] : 1;
    for (let p = 0; p < positions; p++) lines[k * positions + p] = data[frame * positions + p] / divisor;
  });
  return lines;
}

/** Frames whose position does not fit are taken out whole, levels and all, this many times at most. */
const REJECTIONS = 3;

function followDivided(
  streak: StripedStreak,
  gain: Float64Array | null,
  { noiseFloor, sign, exposureFraction }: FollowOptions,
): Found {
  const [frames, positions] = streak.shape;
  let kept = Array.from({ length: frames }, (_, i) => i);
  const whole = workedOn(streak.data, positions, { gain, kept });
  const look = findFront(whole, streak, noiseFloor, sign);
  const start = chooseFit({ data: whole, frames, positions }, streak.frameNumbers, look, exposureFraction);
  let front =
    start && followFront({ data: whole, frames, positions }, streak.frameNumbers, start, noiseFloor ** 2);
  const rejected: RejectedFrame[] = [];
  for (let round = 0; front && round < REJECTIONS; round++) {
    const { line, frames: seen, positionPixels, standardUncertaintyPixels } = front;
    const outliers = findOutliers(
      positionPixels.map((p, k) => p - line.intercept - line.slope * streak.frameNumbers[kept[seen[k]]]),
      standardUncertaintyPixels.map((u) => Math.hypot(u, line.wander.standardDeviation)),
    );
    if (outliers.length === 0) break;
    for (const k of outliers)
      rejected.push({
        frame: kept[seen[k]],
        positionPixels: positionPixels[k],
        standardUncertaintyPixels: standardUncertaintyPixels[k],
      });
    kept = kept.filter((frame) => !rejected.some((r) => r.frame === frame));
    const field = { data: workedOn(streak.data, positions, { gain, kept }), frames: kept.length, positions };
    const numbers = kept.map((i) => streak.frameNumbers[i]);
    front = followFront(field, numbers, jointFit(field, numbers, front.motion), noiseFloor ** 2);
  }
  return { look, front, kept, rejected, gain };
}
