import { findOutliers } from "@frontpace/fit";
import { type FirstLook, findFront } from "../first-look/find-front.js";
import { type FrontMotion, type JointFit, jointFit } from "../model/joint-fit.js";
import { type StreakWindow, workedStreak } from "../model/worked-streak.js";
import type { Pause } from "../pause.js";
import { foreignFrames } from "../streak/noise.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontLine } from "../types.js";
import type { Disbelief } from "./believed-front.js";
import { chooseFit } from "./choose-fit.js";
import { type FollowedFront, followFront } from "./follow-front.js";
import { followTilted } from "./follow-tilted.js";
import type { Tilt } from "./measure-tilt.js";

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
  /** Frames that counted at each position; null: all. */
  readonly window: StreakWindow | null;
  /** Standard uncertainty of the slope for how the levels were taken (other windows, other lengths), px a frame. Default: no other
   *  way was tried. */
  readonly slopeOpenPixels?: number | undefined;
  /** Parts of the width, by their place in the streak's strips, in which something else changes too: it was followed in the
   *  others. Default: in all. */
  readonly stripsLeftOut?: readonly number[];
  /** Why what was followed is no front. Default: it is one, or nothing was followed. */
  readonly disbelief?: Disbelief;
  /** Parts of the way that were followed as one, in order; the line of `front` is then the chord of all of it. Default: it
   *  was followed as one from the beginning. */
  readonly parts?: readonly FrontLine[];
}

/** Where a front that was seen already is followed from. */
export interface FollowFrom {
  readonly look: FirstLook;
  readonly motion: FrontMotion;
  /** Frames that count at each position. Default: all. */
  readonly window?: StreakWindow;
  /** How far the front was from that motion in every frame of the streak, px, shape (frames,); its tilt is then not
   *  looked for. Default: it was not. */
  readonly departurePixels?: Float64Array;
  /** Only where it is, on the mean: neither how it wanders nor its tilt. Default: false. */
  readonly roughly?: boolean;
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
  /** Whether the path was given: a front was expected there. */
  readonly isPathGiven: boolean;
  readonly pause: Pause;
}

/** Finds and follows the front in one streak whose brightness is divided by a known gain in each frame.
 *  @param gain  shape (frames,), or null
 *  @param from  follow this motion, and look for no other
 *  @throws what `options.pause` throws */
export async function followDivided(
  streak: StripedStreak,
  gain: Float64Array | null,
  options: FollowOptions,
  from?: FollowFrom,
): Promise<Found> {
  const { sign, exposureFraction, pause } = options;
  const noiseFloor = streak.roundingNoise;
  const foreign = foreignFrames(streak.data, streak.shape, noiseFloor);
  let kept = Array.from(streak.frameNumbers.keys()).filter((i) => !foreign.includes(i));
  const window = from?.window ?? null;
  const rounds = from?.roughly ? 1 : undefined;
  let worked = workedStreak(streak, gain, kept, window);
  const fitFrom = (motion: FrontMotion) =>
    jointFit(
      worked.field,
      worked.numbers,
      motion,
      kept.map((frame) => from?.departurePixels?.[frame] ?? 0),
    );
  const follow = (start: JointFit) =>
    followFront(worked.field, worked.numbers, start, noiseFloor ** 2, pause, rounds);

  const look = from?.look ?? findFront(worked.field, worked.numbers, noiseFloor, sign);
  const start = from ? fitFrom(from.motion) : await chooseFit(worked.field, worked.numbers, look, options);
  const rejected: RejectedFrame[] = [];
  let front = start && (await follow(start));
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
    worked = workedStreak(streak, gain, kept, window);
    front = await follow(fitFrom(front.motion));
  }

  const tilted =
    front && !from?.roughly && !from?.departurePixels
      ? await followTilted(front, worked, streak, exposureFraction, pause)
      : null;
  const { tilt = null, tangent = 0 } = tilted ?? {};
  return { look, front: tilted?.front ?? front, tilt, tangent, kept, foreign, rejected, gain, window };
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
