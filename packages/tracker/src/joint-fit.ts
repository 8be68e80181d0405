import { Matrix, solve } from "ml-matrix";
import type { ProfileShape } from "./edge-profile.js";
import { type BrightnessField, type FrontState, modelPosition, type PositionModel } from "./front-model.js";

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
}

export interface JointFit {
  readonly motion: FrontMotion;
  readonly state: FrontState;
  readonly models: readonly PositionModel[];
  readonly sumOfSquares: number;
  readonly converged: boolean;
  /** |slope| over its standard uncertainty under white noise of the size of the residuals near the front. */
  readonly significance: number;
}

const SMALLEST_BLUR = 0.15;

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
  const { shape, sense, interceptPixels, slopePixelsPerFrame, blurPixels } = motion;
  return {
    shape,
    sense,
    blurPixels,
    smearPixels: smearOf(motion),
    frontPixels: Float64Array.from(
      frameNumbers,
      (number, i) => interceptPixels + slopePixelsPerFrame * number + deviationPixels[i],
    ),
  };
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
  { steps = 30 }: { steps?: number } = {},
): JointFit {
  const middle = (frameNumbers[0] + frameNumbers[frameNumbers.length - 1]) / 2;
  const largestBlur = field.positions / 2;
  const evaluate = (motion: FrontMotion) => {
    const state = stateOf(motion, frameNumbers, deviationPixels);
    const models = Array.from({ length: field.positions }, (_, p) => modelPosition(field, state, p));
    return { motion, state, models, sumOfSquares: models.reduce((sum, m) => sum + m.sumOfSquares, 0) };
  };
  let current = evaluate(start);
  let damping = 0;
  let converged = false;
  for (let step = 0; step < steps && !converged; step++) {
    const { normal, gradient } = normalEquations(current.models, frameNumbers, middle);
    for (let k = 0; k < 3; k++) normal.set(k, k, normal.get(k, k) * (1 + damping) + 1e-300);
    const move = solve(normal, Matrix.columnVector(gradient), true).to1DArray();
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
  return {
    ...current,
    converged,
    significance: significanceOf(current.models, current.motion, frameNumbers, middle),
  };
}

function significanceOf(
  models: readonly PositionModel[],
  { slopePixelsPerFrame }: FrontMotion,
  frameNumbers: readonly number[],
  middle: number,
): number {
  let sum = 0;
  let count = 0;
  for (const { residual } of models) {
    for (const r of residual) sum += r * r;
    count += residual.length;
  }
  const { normal } = normalEquations(models, frameNumbers, middle);
  const variance = (solve(normal, Matrix.columnVector([0, 1, 0]), true).get(1, 0) * sum) / count;
  return variance > 0 ? Math.abs(slopePixelsPerFrame) / Math.sqrt(variance) : 0;
}

/** Normal matrix and gradient for [front at the middle, slope, log blur], levels projected out. */
function normalEquations(
  models: readonly PositionModel[],
  frameNumbers: readonly number[],
  middle: number,
): { normal: Matrix; gradient: number[] } {
  const sums = new Float64Array(6);
  const gradient = [0, 0, 0];
  for (const { near, value, byFront, byLogBlur, residual, inverse } of models) {
    const plain = [0, 0, 0];
    const byValue = [0, 0, 0];
    for (let n = 0; n < near.length; n++) {
      const d0 = byFront[n];
      const d1 = d0 * (frameNumbers[near[n]] - middle);
      const d2 = byLogBlur[n];
      const t = value[n];
      const r = residual[n];
      gradient[0] += d0 * r;
      gradient[1] += d1 * r;
      gradient[2] += d2 * r;
      plain[0] += d0;
      plain[1] += d1;
      plain[2] += d2;
      byValue[0] += d0 * t;
      byValue[1] += d1 * t;
      byValue[2] += d2 * t;
      sums[0] += d0 * d0;
      sums[1] += d0 * d1;
      sums[2] += d0 * d2;
      sums[3] += d1 * d1;
      sums[4] += d1 * d2;
      sums[5] += d2 * d2;
    }
    const [a, b, c] = inverse;
    for (let k = 0, at = 0; k < 3; k++)
      for (let l = k; l < 3; l++, at++)
        sums[at] -= plain[k] * (a * plain[l] + b * byValue[l]) + byValue[k] * (b * plain[l] + c * byValue[l]);
  }
  const [n00, n01, n02, n11, n12, n22] = sums;
  return {
    normal: new Matrix([
      [n00, n01, n02],
      [n01, n11, n12],
      [n02, n12, n22],
    ]),
    gradient,
  };
}
