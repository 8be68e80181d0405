import { Matrix, solve } from "ml-matrix";
import type { EdgeForm, ProfileShape } from "./edge-profile.js";
import { type FitSums, sumsOf } from "./fit-sums.js";
import {
  type AlikeChanges,
  type BrightnessField,
  type FrontState,
  modelPositions,
  type PositionModel,
} from "./front-model.js";
import { PositionFitter } from "./position-fitter.js";

/** A straight run of the front and its look, to start a joint fit from or as its result. */
export interface FrontMotion {
  readonly shape: ProfileShape;
  readonly sense: 1 | -1;
  /** px at frame number 0 */
  readonly interceptPixels: number;
  /** px a frame, of the sign of `sense` */
  readonly slopePixelsPerFrame: number;
  readonly blurPixels: number;
  /** Part of the frame interval during which light is collected, 0..1. */
  readonly exposureFraction: number;
  /** Length along the path over which a tilted front is spread by the width that is averaged straight, px. */
  readonly tiltSpreadPixels: number;
  /** Of a step. Default: gaussian. */
  readonly form?: EdgeForm | undefined;
  /** Default: each position has a change of its own. */
  readonly alike?: AlikeChanges | undefined;
}

export interface JointFit {
  readonly motion: FrontMotion;
  readonly state: FrontState;
  /** Worked out when they are asked for: of most fits nobody does. */
  readonly models: readonly PositionModel[];
  readonly sumOfSquares: number;
  readonly converged: boolean;
  /** |slope| over its standard uncertainty under white noise of the size of the residuals near the front. */
  readonly significance: number;
}

const SMALLEST_BLUR = 0.15;
/** Steps after which a fit that goes anywhere has come near where it goes: from a start that leads to the front the sum
 *  of squares falls by a factor with each. */
const STEPS_TO_COME_NEAR = 6;

export interface JointFitOptions {
  /** Default: 30. */
  readonly steps?: number;
  /** Of the field, where several fits share it. Default: one of its own. */
  readonly fitter?: PositionFitter;
  /** A fit that leaves more than this after its first steps is given up: it stays where it has come. Default: none is. */
  readonly mostLeft?: number;
}

/** Length over which exposure and tilt together spread the front, px. */
export function smearOf({
  slopePixelsPerFrame,
  exposureFraction,
  tiltSpreadPixels,
}: Pick<FrontMotion, "slopePixelsPerFrame" | "exposureFraction" | "tiltSpreadPixels">): number {
  return Math.hypot(slopePixelsPerFrame * exposureFraction, tiltSpreadPixels);
}

/** State of the front in every frame: the straight line plus a known deviation from it (px, shape (frames,)). */
export function stateOf(
  motion: FrontMotion,
  frameNumbers: readonly number[],
  deviationPixels: ArrayLike<number>,
): FrontState {
  const { shape, sense, interceptPixels, slopePixelsPerFrame, blurPixels, form, alike } = motion;
  const frontPixels = new Float64Array(frameNumbers.length);
  for (let i = 0; i < frontPixels.length; i++)
    frontPixels[i] = interceptPixels + slopePixelsPerFrame * frameNumbers[i] + deviationPixels[i];
  return { shape, sense, blurPixels, smearPixels: smearOf(motion), frontPixels, form, alike };
}

/** Fits position, speed and blur of the front and the levels before and after at every position to the whole
 *  streak at once, by Gauss-Newton steps (damped where needed) with the levels eliminated linearly.
 *  @see Golub and Pereyra, SIAM J. Numer. Anal. 10 (1973) 413; Kaufman, BIT 15 (1975) 49 (citations from
 *    memory) */
export function jointFit(
  field: BrightnessField,
  frameNumbers: readonly number[],
  start: FrontMotion,
  deviationPixels: ArrayLike<number> = new Float64Array(field.frames),
  options: JointFitOptions = {},
): JointFit {
  const { steps = 30, fitter = new PositionFitter(field), mostLeft = Number.POSITIVE_INFINITY } = options;
  const middle = (frameNumbers[0] + frameNumbers[frameNumbers.length - 1]) / 2;
  const largestBlur = field.positions / 2;
  const evaluate = (motion: FrontMotion) => {
    const state = stateOf(motion, frameNumbers, deviationPixels);
    return { motion, state, ...sumsOf(fitter, state, field.positions, frameNumbers, middle) };
  };
  let current = evaluate(start);
  let damping = 0;
  let converged = false;
  for (let step = 0; step < steps && !converged; step++) {
    if (step >= STEPS_TO_COME_NEAR && current.sumOfSquares > mostLeft) break;
    const damped = current.normal.clone();
    for (let k = 0; k < 3; k++) damped.set(k, k, damped.get(k, k) * (1 + damping) + 1e-300);
    const move = solve(damped, Matrix.columnVector(current.gradient), true).to1DArray();
    if (!move.every(Number.isFinite)) break;
    const { motion } = current;
    const slope = motion.slopePixelsPerFrame + move[1];
    const front = motion.interceptPixels + motion.slopePixelsPerFrame * middle + move[0];
    const blur = Math.min(
      largestBlur,
      Math.max(SMALLEST_BLUR, motion.blurPixels * Math.exp(Math.max(-0.7, Math.min(0.7, move[2])))),
    );
    const next =
      slope * motion.sense > 0
        ? evaluate({
            ...motion,
            slopePixelsPerFrame: slope,
            interceptPixels: front - slope * middle,
            blurPixels: blur,
          })
        : null;
    if (next && next.sumOfSquares <= current.sumOfSquares * (1 + 1e-12)) {
      const span = (frameNumbers[frameNumbers.length - 1] - frameNumbers[0]) / 2;
      converged =
        Math.abs(move[0]) + Math.abs(move[1]) * span < 1e-5 * blur &&
        Math.abs(blur / motion.blurPixels - 1) < 1e-4;
      current = next;
      damping = damping < 1e-3 ? 0 : damping / 8;
    } else {
      damping = damping === 0 ? 1e-2 : damping * 6;
      if (damping > 1e7) break;
    }
  }
  const { motion, state, sumOfSquares } = current;
  let models: readonly PositionModel[] | null = null;
  return {
    motion,
    state,
    get models() {
      models ??= modelPositions(field, state, fitter);
      return models;
    },
    sumOfSquares,
    converged,
    significance: significanceOf(current, motion.slopePixelsPerFrame),
  };
}

function significanceOf({ normal, nearSquares, nearCount }: FitSums, slope: number): number {
  const variance = (solve(normal, Matrix.columnVector([0, 1, 0]), true).get(1, 0) * nearSquares) / nearCount;
  return variance > 0 ? Math.abs(slope) / Math.sqrt(variance) : 0;
}
