import { findOutliers } from "@frontpace/fit";
import { chooseFit } from "./choose-fit.js";
import { type FirstLook, findFront } from "./find-front.js";
import { flickerAgainstModel, flickerBetweenFrames } from "./flicker.js";
import { type FollowedFront, followFront, relativeUncertainty } from "./follow-front.js";
import { followTilted } from "./follow-tilted.js";
import { modelledLevel } from "./front-model.js";
import { type FrontMotion, jointFit } from "./joint-fit.js";
import type { Tilt } from "./measure-tilt.js";
import { foreignFrames } from "./noise.js";
import type { Pause } from "./pause.js";
import type { StripedStreak } from "./read-streak.js";
import { shearStrips } from "./shear-strips.js";
import { workedStreak } from "./worked-streak.js";

/** Frames whose position does not fit are taken out whole, levels and all, this many times at most. */
const REJECTIONS = 3;

/** What was found in one streak. */
export interface Found {
  readonly look: FirstLook;
  readonly front: FollowedFront | null;
  /** Of the front against the path; null where the width shows none. */
  readonly tilt: Tilt | null;
  /** Models and state of `front` belong to the strips sheared by this; 0: to the streak itself. */
  readonly tangent: number;
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
  /** Count only changes of this sign; 0: both. */
  readonly sign: -1 | 0 | 1;
  readonly exposureFraction: number | undefined;
  readonly pause: Pause;
}

/** Rounds of: brightness against the model, then the model again; until what the slope has still to move is a small
 *  part of its uncertainty, no move being taken to be more than this part of the one before. */
const FLICKER_ROUNDS = 12;
const SETTLED = 0.1;
const SLOWEST = 0.95;

/** Finds and follows the front in one streak; where the brightness of the whole picture varies, from frame to frame
 *  or against the front's own model, that is divided out first, again against the model until it settles, and the
 *  surer of the two readings is kept.
 *  @throws what `options.pause` throws */
export async function findAndFollow(streak: StripedStreak, options: FollowOptions): Promise<Found> {
  const plain = await followDivided(streak, null, options);
  const seen = againstModel(streak, plain);
  // Averaged straight across the width a tilted front looks like flicker from frame to frame; its model does not.
  if (plain.tangent !== 0 && !seen) return plain;
  let gain = flickerBetweenFrames(streak.data, streak.shape, plain.look.noise) ?? seen;
  if (!gain) return plain;
  let divided = await followDivided(streak, gain, options);
  let lastMove = Number.POSITIVE_INFINITY;
  let open = 0;
  for (let round = 0; divided.front && round < FLICKER_ROUNDS; round++) {
    gain = againstModel(streak, divided);
    if (!gain) return plain.front ? plain : divided;
    const next = await followDivided(streak, gain, options);
    if (!next.front) break;
    const move = Math.abs(next.front.line.slope - divided.front.line.slope);
    // What is still to come if every move is as much smaller than the one before.
    const ratio = Math.min(SLOWEST, move / lastMove);
    open = round === 0 ? move : (move * ratio) / (1 - ratio);
    lastMove = move;
    divided = next;
    if (open < SETTLED * next.front.line.slopeStandardUncertainty) break;
  }
  return surer(plain, unsettled(divided, open));
}

/** With what the brightness and the front have not settled between them. */
function unsettled(found: Found, open: number): Found {
  if (!found.front) return found;
  const { line } = found.front;
  const slopeStandardUncertainty = Math.hypot(line.slopeStandardUncertainty, open);
  return { ...found, front: { ...found.front, line: { ...line, slopeStandardUncertainty } } };
}

function againstModel(streak: StripedStreak, { front, tangent, kept, look }: Found): Float64Array | null {
  if (!front) return null;
  const { models, state } = front;
  const frames = streak.frameNumbers.length;
  const { data, positions } =
    tangent === 0
      ? { data: streak.data, positions: streak.shape[1] }
      : shearStrips(streak.strips, streak, tangent).field;
  const place = new Map(kept.map((frame, k) => [frame, k]));
  return flickerAgainstModel(data, [frames, positions], look.noise, models, (model, frame) => {
    const k = place.get(frame);
    if (k === undefined || model.near.includes(k)) return null;
    const side = state.sense * (state.frontPixels[k] - model.position) > 0 ? "behind" : "ahead";
    return { level: modelledLevel(model, state, k), side };
  });
}

function surer(plain: Found, divided: Found): Found {
  const unsure = ({ front }: Found) => (front ? relativeUncertainty(front) : Number.POSITIVE_INFINITY);
  return unsure(divided) < unsure(plain) ? divided : plain;
}

async function followDivided(
  streak: StripedStreak,
  gain: Float64Array | null,
  { sign, exposureFraction, pause }: FollowOptions,
): Promise<Found> {
  const noiseFloor = streak.roundingNoise;
  const foreign = foreignFrames(streak.data, streak.shape, noiseFloor);
  let kept = Array.from(streak.frameNumbers.keys()).filter((i) => !foreign.includes(i));
  let worked = workedStreak(streak, gain, kept);
  const follow = (motion: FrontMotion) => {
    const { field, numbers } = worked;
    return followFront(field, numbers, jointFit(field, numbers, motion), noiseFloor ** 2, pause);
  };

  const look = findFront(worked.field, worked.numbers, noiseFloor, sign);
  const start = await chooseFit(worked.field, worked.numbers, look, exposureFraction, pause);
  const rejected: RejectedFrame[] = [];
  let front = start && (await followFront(worked.field, worked.numbers, start, noiseFloor ** 2, pause));
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
    worked = workedStreak(streak, gain, kept);
    front = await follow(front.motion);
  }

  const tilted = front && (await followTilted(front, worked, streak, exposureFraction, pause));
  const { tilt = null, tangent = 0 } = tilted ?? {};
  return { look, front: tilted?.front ?? null, tilt, tangent, kept, foreign, rejected, gain };
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
