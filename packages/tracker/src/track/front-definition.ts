import { fitPolynomial } from "@frontpace/fit";
import type { FollowedFront } from "../one-front/follow-front.js";
import type { SlopeContribution } from "../types.js";

/** Parts of the change that stand for the leading edge and for the levels of 25, 50 and 75 %: samples whose model lies
 *  between the two shares. */
const LEVELS = [
  [0.03, 0.15],
  [0.15, 0.35],
  [0.4, 0.6],
  [0.65, 0.85],
] as const;
/** Frames that must show a level, and so many that what they leave tells their noise better than that of the samples. */
const FEWEST_FRAMES = 5;
const TELL_NOISE = 8;
/** Speeds at two levels differ where they do so by this many standard uncertainties. */
const SIGNIFICANT = 2.5;

/** What the speed owes to the level at which the front is read: half the spread of the speeds at its leading edge and at
 *  25, 50 and 75 % of its change. A level that is ahead by a constant distance runs as fast as any other; one whose lead
 *  grows (glow, a blur that grows) does not. A spread that is no more than its
 *  noise counts as 0.
 *  @param frameNumbers  of the frames that `front.frames` counts */
export function frontDefinition(front: FollowedFront, frameNumbers: readonly number[]): SlopeContribution {
  if (front.motion.shape !== "step")
    return { notEvaluated: "a front that passes has no level behind it whose parts could be read" };
  const speeds = LEVELS.flatMap(([low, high]) => speedAt(front, frameNumbers, low, high) ?? []);
  if (speeds.length < 2) return { notEvaluated: "too few frames show the front's levels: more frames would" };
  const fastest = speeds.reduce((a, b) => (b.slope > a.slope ? b : a));
  const slowest = speeds.reduce((a, b) => (b.slope < a.slope ? b : a));
  const spread = fastest.slope - slowest.slope;
  const noise = Math.hypot(fastest.standardUncertainty, slowest.standardUncertainty);
  return {
    standardUncertaintyPixelsPerFrame: spread > SIGNIFICANT * noise ? spread / 2 : 0,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
}

/** Speed of a level beyond that of the whole front, px a frame: from the shift that its samples alone ask for in every
 *  frame; null where too few frames show it. */
function speedAt(
  { models, frames, state, positionPixels, noiseVariance }: FollowedFront,
  frameNumbers: readonly number[],
  low: number,
  high: number,
): { slope: number; standardUncertainty: number } | null {
  const score = new Float64Array(frameNumbers.length);
  const information = new Float64Array(frameNumbers.length);
  for (const { near, value, byFront, residual } of models)
    near.forEach((frame, n) => {
      if (value[n] < low || value[n] > high) return;
      score[frame] += byFront[n] * residual[n];
      information[frame] += byFront[n] ** 2;
    });
  const seen = frames.flatMap((frame, k) => {
    if (!(information[frame] > 0)) return [];
    const whole = positionPixels[k] - state.frontPixels[frame];
    return [
      {
        number: frameNumbers[frame],
        shift: score[frame] / information[frame] - whole,
        standardUncertainty: Math.sqrt(noiseVariance / information[frame]),
      },
    ];
  });
  if (seen.length < FEWEST_FRAMES) return null;
  const { coefficients, covariance, residualStandardDeviation } = fitPolynomial(
    seen.map(({ number }) => number),
    seen.map(({ shift }) => shift),
    1,
    { standardUncertainty: seen.map(({ standardUncertainty }) => standardUncertainty) },
  );
  return {
    slope: coefficients[1],
    standardUncertainty:
      Math.sqrt(covariance[1][1]) *
      (seen.length < TELL_NOISE ? Math.max(1, residualStandardDeviation) : residualStandardDeviation),
  };
}
