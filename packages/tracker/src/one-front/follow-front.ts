import {
  addWanderPrecision,
  bandedDiagonalOf,
  factorInformation,
  fitWanderingLine,
  type Information,
  informationTimes,
  type WanderingLineFit,
} from "@frontpace/fit";
import { edgeWidth } from "../model/edge-profile.js";
import { frameInformation, framesThatShow } from "../model/frame-information.js";
import type { BrightnessField, FrontState, PositionModel } from "../model/front-model.js";
import { type FrontMotion, type JointFit, jointFit, stateOf } from "../model/joint-fit.js";
import { residualNoise } from "../model/residual-noise.js";
import type { Pause } from "../pause.js";
import { carriedOn } from "./carried-on.js";
import { type GroupedFrames, groupFrames, runLength } from "./group-frames.js";
import { type Wander, wanderWithinRuns } from "./wander-within-runs.js";

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
  /** What the line goes through: positions of runs of `frames`, and all that ties them. */
  readonly readings: {
    /** Middle frame number of each. */
    readonly numbers: readonly number[];
    readonly positionPixels: readonly number[];
    readonly information: Information;
    /** What they weigh in the line. */
    readonly weighting: Information;
    /** Run to which each of `frames` belongs. */
    readonly groupOf: (k: number) => number;
  };
  /** Variance of a streak sample's noise. */
  readonly noiseVariance: number;
}

/** A frame shows the front with this share of the median information; followed, it keeps to that until it has lost
 *  all but the second share, because leaving frames out by where they were followed to would bend the line. */
const LEAST_SHARE = 0.1;
const LOST_SHARE = 0.01;
/** More rounds than this change nothing. */
const ROUNDS = 4;
/** Products in a factorisation: of those that average over the wander, hundreds to a line; and of the one that finds
 *  the departures, where runs of frames would hide what wanders within them. */
const MOST_WORK_LINE = 2e6;
const MOST_WORK_DEPARTURE = 1e8;
/** Keeps the information invertible where frames can only be placed relative to each other, px. */
const LOOSEST_PRIOR_PIXELS = 1e3;

/** Follows the front from a first motion, and from how far it is known to have been from that: joint fit of line, blur
 *  and levels, then the departure of each frame from the line, as large as the estimated wander makes likely, and again
 *  until it settles.
 *  @param noiseFloor  smallest believable variance of a sample
 *  @param rounds  of: line and look, then every frame's own departure from the line
 *  @returns null where fewer than three frames show the front, that is, place it within less than the path's length
 *  @throws what `pause` throws */
export async function followFront(
  field: BrightnessField,
  frameNumbers: readonly number[],
  start: JointFit,
  noiseFloor: number,
  pause: Pause,
  rounds = ROUNDS,
): Promise<FollowedFront | null> {
  let departure = departureOf(start, frameNumbers);
  let fit = start;
  let frames: readonly number[] = Array.from(frameNumbers.keys());
  let report: () => FollowedFront | null = () => null;
  for (let round = 0; round < rounds; round++) {
    await pause();
    const shown = framesThatShow(fit.models, field.frames, frames, round === 0 ? LEAST_SHARE : LOST_SHARE);
    if (shown.length < 3) break;
    frames = shown;
    const state = stateOf(fit.motion, frameNumbers, departure);
    const seen = frameInformation(fit.models, frames);
    const { variance, lasting } = residualNoise(field, state, fit.models, seen, noiseFloor);
    const score = seen.score.map((value) => value / variance);
    const information = scaled(seen.information, 1 / variance);
    const placing = bandedDiagonalOf(seen.information.banded).filter(
      (value) => value * field.positions ** 2 > variance,
    );
    if (placing.length < 3) break;
    const inRuns = (run: number, of = information) =>
      groupFrames(
        frames.map((i) => frameNumbers[i]),
        frames.map((i) => state.frontPixels[i]),
        score,
        of,
        run,
      );
    const run = runLength(information, MOST_WORK_LINE);
    const grouped = inRuns(run);
    const factor = factorInformation(grouped.information);
    if (!factor) break;
    const shift = factor.solve(grouped.score);
    const free = grouped.positionPixels.map((position, k) => position + shift[k]);
    // About followed departures the positions weigh as they do about the straight line.
    const weighting =
      round === 0
        ? grouped.information
        : inRuns(run, scaled(frameInformation(start.models, frames).information, 1 / variance)).information;
    const line = fitWanderingLine(grouped.numbers, free, grouped.information, weighting, { rough: true });
    const diagonal = bandedDiagonalOf(information.banded);
    const { motion, models } = fit;
    report = () => {
      // Only what is reported is widened: what the model still misses lasts, too, and must be followed first.
      const reported = scaled(grouped.information, 1 / lasting);
      const weighed = round === 0 ? reported : scaled(weighting, 1 / lasting);
      return {
        motion,
        models,
        state,
        frames: shown,
        positionPixels: shown.map((i, k) => state.frontPixels[i] + score[k] / diagonal[k]),
        standardUncertaintyPixels: Array.from(diagonal, (value) => Math.sqrt(lasting / value)),
        line: fitWanderingLine(grouped.numbers, free, reported, weighed, { rough: rounds === 1 }),
        readings: {
          numbers: grouped.numbers,
          positionPixels: free,
          information: reported,
          weighting: weighed,
          groupOf: grouped.groupOf,
        },
        noiseVariance: variance * lasting,
      };
    };
    if (!isFarFromLine(line, fit.motion, diagonal)) break;
    const finerRun = runLength(information, MOST_WORK_DEPARTURE);
    const finer = inRuns(finerRun);
    const likely = likelyDeparture(
      finer,
      line,
      wanderWithinRuns(line.wander, grouped.numbers, run / finerRun),
    );
    const next = carriedOn(
      frames,
      frames.map((_, k) => likely[finer.groupOf(k)]),
      state.frontPixels.map((position, i) => position - line.intercept - line.slope * frameNumbers[i]),
    );
    const largestMove = next.reduce((most, value, i) => Math.max(most, Math.abs(value - departure[i])), 0);
    if (largestMove < 0.02 * fit.motion.blurPixels && round > 0) break;
    departure = next;
    fit = jointFit(field, frameNumbers, alongLine(fit.motion, line), departure, { steps: 10 });
  }
  return report();
}

/** The motion along the line that departures are told from: about another one what is narrow and passes would be missed. */
function alongLine(motion: FrontMotion, { intercept, slope }: WanderingLineFit): FrontMotion {
  if (!(slope * motion.sense > 0)) return motion;
  return { ...motion, interceptPixels: intercept, slopePixelsPerFrame: slope };
}

/** How far a fit's front was from its own straight line in every frame, px, shape (frames,). */
function departureOf(
  { motion, state }: JointFit,
  frameNumbers: readonly number[],
): Float64Array<ArrayBuffer> {
  const straight = stateOf(motion, frameNumbers, new Float64Array(frameNumbers.length));
  return state.frontPixels.map((position, i) => position - straight.frontPixels[i]);
}

/** How unsure the speed is, relative to itself: by the line's uncertainty, or by what parts the line from the motion
 *  that it was linearised about. */
export function relativeUncertainty({ line, motion }: FollowedFront): number {
  const apart = Math.abs(line.slope - motion.slopePixelsPerFrame);
  return Math.max(line.slopeStandardUncertainty, apart) / Math.abs(motion.slopePixelsPerFrame);
}

/** Whether the front wanders so far that its look must be fitted about where it was, not about the line: by more
 *  than a tenth of its width, and seen above the noise of the readings. Otherwise one linear step is enough, and
 *  following the noise of every frame would sharpen the blur and bend the line. */
function isFarFromLine(
  { wander }: WanderingLineFit,
  { blurPixels, exposureFraction, slopePixelsPerFrame }: FrontMotion,
  information: Float64Array,
): boolean {
  const width = edgeWidth(blurPixels, exposureFraction * slopePixelsPerFrame);
  const reading = 1 / Math.sqrt(information.reduce((sum, value) => sum + value, 0) / information.length);
  return wander.standardDeviation > width / 10 && wander.standardDeviation > 2 * reading;
}

/** The information for a noise of variance 1/factor. */
function scaled({ banded, lost }: Information, factor: number): Information {
  const stride = banded.bandwidth + 1;
  const ridge = 1 / LOOSEST_PRIOR_PIXELS ** 2;
  return {
    banded: {
      ...banded,
      data: banded.data.map((value, at) => value * factor + (at % stride === 0 ? ridge : 0)),
    },
    lost: lost ? lost.map((value) => value * Math.sqrt(factor)) : null,
  };
}

/** The most likely departure from the line in every run, given the readings and the wander, px. */
function likelyDeparture(
  { numbers, positionPixels, score, information }: GroupedFrames,
  { intercept, slope }: WanderingLineFit,
  wander: Wander,
): Float64Array {
  if (wander.standardDeviation === 0) return new Float64Array(numbers.length);
  const off = positionPixels.map((p, k) => p - intercept - slope * numbers[k]);
  const { sum } = addWanderPrecision(information, numbers, wander.standardDeviation, wander.correlation);
  const pull = informationTimes(information, off);
  const factor = factorInformation(sum);
  return factor ? factor.solve(pull.map((value, k) => value + score[k])) : new Float64Array(numbers.length);
}
