import { edgeWidth } from "../model/edge-profile.js";
import { jointFit, smearOf } from "../model/joint-fit.js";
import { positionAt } from "../model/passage.js";
import { varianceByOther } from "../model/variance-by-other.js";
import type { WorkedStreak } from "../model/worked-streak.js";
import type { FollowedFront } from "../one-front/follow-front.js";
import type { Pause } from "../pause.js";
import { type History, historiesOf } from "./position-histories.js";
import type { Relaxation } from "./relaxing-columns.js";
import {
  improvedRelaxation,
  leftOf,
  parametersOf,
  triedLength,
  withParameters,
} from "./relaxing-parameters.js";
import { type FrontRun, relaxingWindow } from "./relaxing-window.js";

/** Rounds of: how the levels fall off, then the front again. */
const ROUNDS = 2;
/** Steps of a fit of the front that starts beside its end. */
const STEPS = 8;
/** What falls off must explain so many standard deviations more of the noise than its sizes do by chance. */
const SURE = 4;
/** Of what constant levels leave beyond noise this part at most is left by what falls off, before the front is fitted anew. */
const MOST_UNEXPLAINED = 0.5;
/** Where both leave more than this times the noise, they do not come to explain it when the front is followed again. */
const MAY_EXPLAIN = 1.3;
/** What falls off within fewer than so many standard deviations of the front's edge is a part of it. */
const SHORTEST = 2.5;
/** By which the effect of a parameter on the slope is told. */
const STEP = 0.1;

const CONSTANT: Relaxation = { aheadPixels: null, growth: 0, behindPixels: null, form: "ended" };

/** Levels that explain a streak, and the front among them. */
export interface ChosenRelaxation {
  readonly relaxation: Relaxation;
  readonly run: FrontRun;
  /** Standard uncertainty of the slope for what the relaxation leaves open, px a frame. */
  readonly slopeOpenPixels: number;
  /** What is left of what constant levels leave, in units of the noise variance, with as many levels as these have. */
  readonly left: number;
}

/** A relaxation with the front that was fitted with it. */
interface Trial {
  readonly relaxation: Relaxation;
  readonly run: FrontRun;
  /** Of the relaxation's parameters. */
  readonly variances: readonly number[];
  /** Sum of squares that both leave, in units of the noise variance. */
  readonly left: number;
}

/** Which glow ahead of a front, and which settling of the level behind it explain a streak better than constant levels: one of
 *  them, or both.
 *  @param stride  lengths are told by every so many of the positions, >= 1
 *  @param noiseVariance  of a sample
 *  @returns null where neither explains more than noise would
 *  @throws what `pause` throws */
export async function chooseRelaxation(
  worked: WorkedStreak,
  front: FollowedFront,
  stride: number,
  noiseVariance: number,
  pause: Pause,
): Promise<ChosenRelaxation | null> {
  const { numbers, field } = worked;
  const departures = front.state.frontPixels.map(
    (pixels, k) => pixels - positionAt(front.motion, numbers[k]),
  );
  const fitWith = ({ motion, frontPixels }: FrontRun, relaxation: Relaxation) => {
    const run = { motion, numbers, frontPixels };
    const window = relaxingWindow(run, field.positions, relaxation, field.window ?? null);
    return jointFit({ ...field, window }, numbers, motion, departures, { steps: STEPS });
  };
  const settled = async (start: FrontRun, first: Relaxation): Promise<Trial> => {
    let trial: Trial = { relaxation: first, run: start, variances: [], left: Number.POSITIVE_INFINITY };
    for (let round = 0; round < ROUNDS; round++) {
      await pause();
      const histories = historiesOf(field, trial.run, stride);
      const [shortest] = lengthsOf(trial.run, field.positions);
      const told = improvedRelaxation(histories, trial.relaxation, shortest, noiseVariance / stride);
      const { motion, state, sumOfSquares } = fitWith(trial.run, told.relaxation);
      const run = { motion, numbers, frontPixels: state.frontPixels };
      trial = { ...told, run, left: sumOfSquares / noiseVariance };
    }
    return trial;
  };
  const tryParts = ({ run, relaxation }: Pick<Trial, "run" | "relaxation">, parts: readonly Part[]) =>
    bestPart(historiesOf(field, run, stride), relaxation, parts, lengthsOf(run, field.positions));

  const leftByPlain = front.models.reduce((sum, { sumOfSquares }) => sum + sumOfSquares, 0) / noiseVariance;
  const freedom = front.models.reduce((sum, { count }) => sum + count, 0);
  const enough = field.positions + SURE * Math.sqrt(2 * field.positions);
  /** In the form that leaves less, then in the other. */
  const inBothForms = async (trial: Trial): Promise<readonly [Trial, Trial]> => {
    const form = trial.relaxation.form === "ended" ? "covered" : "ended";
    const turned = await settled(trial.run, { ...trial.relaxation, form });
    return turned.left < trial.left ? [turned, trial] : [trial, turned];
  };
  /** With the part that is missing, where that explains what the other leaves. */
  const withMissing = async (forms: readonly [Trial, Trial]): Promise<readonly [Trial, Trial]> => {
    const [one] = forms;
    if (one.left <= freedom) return forms;
    const missing: Part = one.relaxation.aheadPixels === null ? "aheadPixels" : "behindPixels";
    const both = await settled(one.run, tryParts(one, [missing]));
    return both.left < one.left - enough ? inBothForms(both) : forms;
  };

  const start = { motion: front.motion, numbers, frontPixels: front.state.frontPixels };
  const first = tryParts({ run: start, relaxation: CONSTANT }, ["aheadPixels", "behindPixels"]);
  if (!isPromising(historiesOf(field, start, stride), first, noiseVariance)) return null;
  const one = await settled(start, first);
  if (one.left > leftByPlain - enough) return null;
  // A second part would also explain what the wrong form of the first leaves about the edge.
  const [best, other] = await withMissing(await inBothForms(one));
  if (best.left > MAY_EXPLAIN * freedom) return null;

  const slopeWith = (relaxation: Relaxation) => fitWith(best.run, relaxation).motion.slopePixelsPerFrame;
  const apart = other.run.motion.slopePixelsPerFrame - best.run.motion.slopePixelsPerFrame;
  const byOther = varianceByOther(apart, other.left - best.left);
  return {
    relaxation: best.relaxation,
    run: best.run,
    left: best.left,
    slopeOpenPixels: Math.sqrt(slopeVariance(best, slopeWith) + byOther),
  };
}

type Part = "aheadPixels" | "behindPixels";

/** That of some parts of a relaxation, with the best of its lengths, that leaves least. */
function bestPart(
  histories: readonly History[],
  relaxation: Relaxation,
  parts: readonly Part[],
  lengths: readonly [number, number],
): Relaxation {
  return parts
    .map((part) => triedLength(histories, relaxation, part, lengths))
    .map((option) => ({ option, left: leftOf(histories, option) }))
    .reduce((least, next) => (next.left < least.left ? next : least)).option;
}

/** Whether levels that fall off explain much of what constant ones leave beyond noise, the front where it is: quickly told, and
 *  where other things change they do not. */
function isPromising(histories: readonly History[], relaxation: Relaxation, noiseVariance: number): boolean {
  const samples = histories.reduce((sum, { samples }) => sum + samples.length, 0);
  const beyondNoise = (of: Relaxation) => leftOf(histories, of) / noiseVariance - samples;
  return beyondNoise(relaxation) < MOST_UNEXPLAINED * Math.max(0, beyondNoise(CONSTANT));
}

/** What the uncertainty of the parameters makes of the slope's. */
function slopeVariance(
  { relaxation, variances }: Trial,
  slopeWith: (relaxation: Relaxation) => number,
): number {
  const slope = slopeWith(relaxation);
  const values = parametersOf(relaxation);
  return values.reduce((sum, value, k) => {
    const moved = slopeWith(withParameters(relaxation, values.with(k, value + STEP)));
    return sum + ((moved - slope) / STEP) ** 2 * variances[k];
  }, 0);
}

/** From what can be told from the front's own edge to the length of the path or of the run. */
function lengthsOf({ motion, numbers }: FrontRun, positions: number): readonly [number, number] {
  const width = edgeWidth(motion.blurPixels, smearOf(motion));
  const run = Math.abs(motion.slopePixelsPerFrame) * (numbers[numbers.length - 1] - numbers[0]);
  return [SHORTEST * width, Math.max(2 * SHORTEST * width, positions, run)];
}
