import {
  addWanderPrecision,
  bandedDiagonalOf,
  factorInformation,
  fitWanderingLine,
  type Information,
  informationTimes,
  type WanderingLineFit,
} from "@frontpace/fit";
import { frameInformation } from "./frame-information.js";
import type { BrightnessField, FrontState, PositionModel } from "./front-model.js";
import { groupFrames } from "./group-frames.js";
import { type FrontMotion, type JointFit, jointFit, stateOf } from "./joint-fit.js";
import { residualVariance } from "./residual-noise.js";

/** The front followed through every frame that shows it. */
export interface FollowedFront {
  readonly motion: FrontMotion;
  readonly models: readonly PositionModel[];
  readonly state: FrontState;
  /** Indices of the frames in which the front is seen, increasing. */
  readonly frames: readonly number[];
  /** px, one for each of `frames`: read from that frame alone once levels and look are known. */
  readonly positionPixels: readonly number[];
  readonly standardUncertaintyPixels: readonly number[];
  /** The line through the positions with everything that ties them. */
  readonly line: WanderingLineFit;
  /** Variance of a streak sample's noise. */
  readonly noiseVariance: number;
  readonly sumOfSquares: number;
}

/** Rounds of: line and look, then every frame's own departure from the line. */
const ROUNDS = 4;
/** Keeps the information invertible where frames can only be placed relative to each other, px. */
const LOOSEST_PRIOR_PIXELS = 1e3;

/** Follows the front from a first motion: joint fit of line, blur and levels, then the departure of each frame
 *  from the line, as large as the estimated wander makes likely, and again until it settles.
 *  @param noiseFloor  smallest believable variance of a sample
 *  @returns null where fewer than three frames show the front */
export function followFront(
  field: BrightnessField,
  frameNumbers: readonly number[],
  start: JointFit,
  noiseFloor: number,
): FollowedFront | null {
  let departure = new Float64Array(field.frames);
  let fit = start;
  let followed: FollowedFront | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const seen = frameInformation(fit.models, field.frames);
    if (seen.frames.length < 3) return null;
    const state = stateOf(fit.motion, frameNumbers, departure);
    const variance = residualVariance(field, state, fit.models, seen, noiseFloor);
    const information = scaled(seen.information, 1 / variance, 1 / LOOSEST_PRIOR_PIXELS ** 2);
    const score = seen.score.map((value) => value / variance);
    const grouped = groupFrames(
      seen.frames.map((i) => frameNumbers[i]),
      seen.frames.map((i) => state.frontPixels[i]),
      score,
      information,
    );
    const factor = factorInformation(grouped.information);
    if (!factor) return followed;
    const shift = factor.solve(grouped.score);
    const free = grouped.positionPixels.map((position, k) => position + shift[k]);
    const line = fitWanderingLine(grouped.numbers, free, grouped.information);
    const diagonal = bandedDiagonalOf(information.banded);
    followed = {
      motion: fit.motion,
      models: fit.models,
      state,
      frames: seen.frames,
      positionPixels: seen.frames.map((i, k) => state.frontPixels[i] + score[k] / diagonal[k]),
      standardUncertaintyPixels: Array.from(diagonal, (value) => 1 / Math.sqrt(value)),
      line,
      noiseVariance: variance,
      sumOfSquares: fit.sumOfSquares,
    };
    if (!isFarFromLine(line, fit.motion, diagonal)) break;
    const likely = likelyDeparture(grouped.numbers, free, grouped.information, line);
    const next = new Float64Array(field.frames);
    seen.frames.forEach((i, k) => {
      next[i] = likely[grouped.groupOf(k)];
    });
    const largestMove = next.reduce((most, value, i) => Math.max(most, Math.abs(value - departure[i])), 0);
    if (largestMove < 0.02 * fit.motion.blurPixels && round > 0) break;
    departure = next;
    fit = jointFit(field, frameNumbers, fit.motion, departure, { steps: 10 });
  }
  return followed;
}

/** Whether the front wanders so far that its look must be fitted about where it was, not about the line: by more
 *  than a tenth of its width, and seen above the noise of the readings. Otherwise one linear step is enough, and
 *  following the noise of every frame would sharpen the blur and bend the line. */
function isFarFromLine(
  { wander }: WanderingLineFit,
  { blurPixels, exposureFraction, slopePixelsPerFrame }: FrontMotion,
  information: Float64Array,
): boolean {
  const smear = exposureFraction * slopePixelsPerFrame;
  const width = Math.sqrt(blurPixels ** 2 + (1 + smear * smear) / 12);
  const reading = 1 / Math.sqrt(information.reduce((sum, value) => sum + value, 0) / information.length);
  return wander.standardDeviation > width / 10 && wander.standardDeviation > 2 * reading;
}

function scaled({ banded, lost }: Information, factor: number, ridge: number): Information {
  const stride = banded.bandwidth + 1;
  return {
    banded: {
      ...banded,
      data: banded.data.map((value, at) => value * factor + (at % stride === 0 ? ridge : 0)),
    },
    lost: lost ? lost.map((value) => value * Math.sqrt(factor)) : null,
  };
}

/** The most likely departure from the line, given the readings and the estimated wander, px. */
function likelyDeparture(
  numbers: readonly number[],
  positions: readonly number[],
  information: Information,
  { intercept, slope, wander }: WanderingLineFit,
): Float64Array {
  if (wander.standardDeviation === 0) return new Float64Array(numbers.length);
  const off = positions.map((p, k) => p - intercept - slope * numbers[k]);
  const { sum } = addWanderPrecision(information, numbers, wander.standardDeviation, wander.correlation);
  const factor = factorInformation(sum);
  return factor ? factor.solve(informationTimes(information, off)) : new Float64Array(numbers.length);
}
