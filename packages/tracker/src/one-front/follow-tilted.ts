import { type FrontMotion, type JointFit, jointFit } from "../model/joint-fit.js";
import type { WorkedStreak } from "../model/worked-streak.js";
import type { Pause } from "../pause.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { type FollowedFront, followFront } from "./follow-front.js";
import { type MeasuredTilt, measureTilt, type Tilt } from "./measure-tilt.js";
import { shearStrips } from "./shear-strips.js";

export interface FollowedTilted {
  /** Its positions, line and motion are on the path; its models and state belong to the streak it was followed in. */
  readonly front: FollowedFront;
  readonly tilt: Tilt | null;
  /** By how much the strips were sheared into that streak; 0: it is that of the whole width. */
  readonly tangent: number;
}

/** A tilt is followed where it is this many times its uncertainty and spreads the front over the width by this part of
 *  its blur, but not by more than this many times the path. */
const SIGNIFICANT = 3;
const LEAST_SPREAD = 0.7;
const MOST_SPREAD = 8;
/** The tilt has settled where it changes by less than this part of its uncertainty. */
const SETTLED = 0.1;
const ROUNDS = 8;

/** Measures the tilt of a front against the path, and where it is large follows the front again in the strips sheared
 *  by it, and again until the tilt settles. Averaged straight across the width a tilted front is a ramp, which tells
 *  less of its position, and of which the ends of the path cut off different parts.
 *  @param exposureFraction  as stated; undefined where it is only guessed at
 *  @throws what `pause` throws */
export async function followTilted(
  front: FollowedFront,
  { strips, numbers, field: { positions } }: WorkedStreak,
  streak: Pick<StripedStreak, "width" | "stripOffsetsPixels" | "stripCounts" | "roundingNoise">,
  exposureFraction: number | undefined,
  pause: Pause,
): Promise<FollowedTilted> {
  const { width, stripOffsetsPixels } = streak;
  const tiltOf = ({ state, noiseVariance }: FollowedFront, near = 0) =>
    measureTilt({ strips, stripOffsetsPixels, frameNumbers: numbers }, state, noiseVariance, near);
  let tilt = tiltOf(front);
  let best: FollowedTilted = { front, tilt, tangent: 0 };
  if (!tilt || Math.abs(tilt.tangent) < SIGNIFICANT * tilt.tangentStandardUncertainty) return best;
  const spread = width * Math.abs(tilt.tangent);
  if (spread < LEAST_SPREAD * front.motion.blurPixels) return best;
  let motion = sharpened(front.motion, spread);
  for (let round = 0; round < ROUNDS; round++) {
    const { tangent, correction } = tilt;
    if (width * Math.abs(tangent) > MOST_SPREAD * positions) break;
    const { field, firstPixels } = shearStrips(strips, streak, tangent);
    const start = moved(corrected(motion, correction), -firstPixels);
    const tiltSpreadPixels = (width / strips.length) * Math.abs(tangent);
    const fits = exposures(motion, exposureFraction).map((fraction) =>
      jointFit(field, numbers, { ...start, tiltSpreadPixels, exposureFraction: fraction }),
    );
    const followed = await followFront(field, numbers, closest(fits), streak.roundingNoise ** 2, pause);
    if (!followed) break;
    const onPath = movedFront(followed, firstPixels);
    const next: MeasuredTilt | null = tiltOf(onPath, tangent);
    if (!next) break;
    best = { front: { ...unsure(onPath, next, tangent), state: followed.state }, tilt: next, tangent };
    if (Math.abs(next.tangent - tangent) < SETTLED * next.tangentStandardUncertainty) break;
    motion = onPath.motion;
    tilt = next;
  }
  return best;
}

/** Without what a ramp of that length put into the blur; a pixel at least, to find the front from afar. */
function sharpened(motion: FrontMotion, rampPixels: number): FrontMotion {
  return { ...motion, blurPixels: Math.sqrt(Math.max(1, motion.blurPixels ** 2 - rampPixels ** 2 / 12)) };
}

function corrected(
  motion: FrontMotion,
  { middle, frontPixels, slope }: MeasuredTilt["correction"],
): FrontMotion {
  const slopePixelsPerFrame = motion.slopePixelsPerFrame + slope;
  if (!(slopePixelsPerFrame * motion.sense > 0)) return motion;
  return {
    ...motion,
    slopePixelsPerFrame,
    interceptPixels: motion.interceptPixels + frontPixels - slope * middle,
  };
}

/** Exposures to try, parts of the frame interval; what was guessed for the ramp need not hold for the edge. */
function exposures(
  { slopePixelsPerFrame, exposureFraction }: FrontMotion,
  stated: number | undefined,
): readonly number[] {
  if (stated !== undefined) return [stated];
  return Math.abs(slopePixelsPerFrame) > 2 ? [0, 0.5, 1] : [exposureFraction];
}

function closest(fits: readonly JointFit[]): JointFit {
  return fits.reduce((least, fit) => (fit.sumOfSquares < least.sumOfSquares ? fit : least));
}

function moved(motion: FrontMotion, pixels: number): FrontMotion {
  return { ...motion, interceptPixels: motion.interceptPixels + pixels };
}

function movedFront(front: FollowedFront, pixels: number): FollowedFront {
  const { motion, state, positionPixels, line } = front;
  return {
    ...front,
    motion: moved(motion, pixels),
    state: { ...state, frontPixels: state.frontPixels.map((p) => p + pixels) },
    positionPixels: positionPixels.map((p) => p + pixels),
    line: { ...line, intercept: line.intercept + pixels },
  };
}

/** With what the tilt leaves open of the speed: its uncertainty, and what it has not settled. */
function unsure(front: FollowedFront, tilt: MeasuredTilt, tangent: number): FollowedFront {
  const { line } = front;
  const open = Math.hypot(tilt.tangentStandardUncertainty, tilt.tangent - tangent);
  const slopeStandardUncertainty = Math.hypot(line.slopeStandardUncertainty, tilt.slopeByTangent * open);
  return { ...front, line: { ...line, slopeStandardUncertainty } };
}
