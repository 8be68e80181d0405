import { inverse, Matrix } from "ml-matrix";
import { driftingLevels, fitDriftingLevels } from "./drifting-levels.js";
import type { BrightnessField } from "./front-model.js";
import { type EdgeLook, edgeAt, glowAt } from "./glow-at.js";
import { smearOf } from "./joint-fit.js";
import { type FrontRun, partOfRun } from "./relaxing-window.js";

/** Steps of the fit, which ends where a step gains less than this of the sum of squares over the noise variance. */
const STEPS = 15;
const LEAST_GAIN = 0.01;
const MOST_DAMPING = 1e6;
/** Differences by which effects are told: px, and of logarithms. */
const DIFFERENCE = 0.02;
/** px */
const SHORTEST = 0.5;

/** A glow: light that runs ahead of a front, the same part of its change at all positions. */
export interface Glow {
  /** Distance in which it falls by e, px. */
  readonly lengthPixels: number;
  /** At the front, at the middle of its run, in units of the front's change. */
  readonly size: number;
  /** How much more that is at the end of the run. */
  readonly growth: number;
  readonly isCovered: boolean;
}

/** A front and the glow ahead of it, fitted at once. */
export interface FittedGlow {
  readonly run: FrontRun;
  readonly glow: Glow;
  /** Sum of squares that both leave, in units of the noise variance. */
  readonly left: number;
  /** The same for each sample that is free to differ: 1 where they explain the streak. */
  readonly misfit: number;
  /** Variance of the slope for what the glow leaves open, (px a frame)². */
  readonly slopeVariance: number;
}

/** What is fitted: where the front is at the middle of the take and its slope, the logarithm of its blur, the size of the glow at
 *  the middle of the run and by how much it grows, the logarithm of its length. */
const PARAMETERS = 6;
const SLOPE = 1;
const OF_FRONT = 3;

/** Fits a front and a glow ahead of it that is the same part of the front's change at all positions, by damped Gauss-Newton steps,
 *  the levels of each position eliminated.
 *  @param stride  every so many of the positions are looked at, >= 1
 *  @param noiseVariance  of a sample */
export function fitGlow(
  field: BrightnessField,
  start: Pick<FittedGlow, "run" | "glow">,
  stride: number,
  noiseVariance: number,
): FittedGlow {
  const evaluate = (run: FrontRun, glow: Glow) => sumsAt(field, { run, glow }, stride, noiseVariance);
  let current = evaluate(start.run, start.glow);
  let damping = 1e-3;
  for (let step = 0; step < STEPS && damping < MOST_DAMPING; step++) {
    const damped = current.normal.clone();
    for (let k = 0; k < PARAMETERS; k++) damped.set(k, k, damped.get(k, k) * (1 + damping) + 1e-12);
    const move = inverse(damped, true).mmul(current.gradient).to1DArray();
    const next = evaluate(...moved(current, move));
    const { sense, slopePixelsPerFrame } = next.run.motion;
    if (next.left < current.left && sense * slopePixelsPerFrame > 0) {
      const gained = current.left - next.left;
      current = next;
      damping /= 5;
      if (gained < LEAST_GAIN) break;
    } else damping *= 8;
  }
  const { run, glow, left, freedom, normal } = current;
  const ofFront = normal.subMatrix(0, OF_FRONT - 1, 0, OF_FRONT - 1);
  const slopeVariance = inverse(normal, true).get(SLOPE, SLOPE) - inverse(ofFront, true).get(SLOPE, SLOPE);
  return {
    run,
    glow,
    left,
    misfit: left / Math.max(1, freedom),
    slopeVariance: Math.max(0, slopeVariance) / stride,
  };
}

/** What a first step would gain by a glow ahead of a front that was fitted without it, of the sum of squares over the noise variance:
 *  two on the mean where there is none, for its size and its growth.
 *  @param lengthPixels  distance in which the glow falls by e
 *  @param stride  every so many of the positions are looked at, >= 1 */
export function gainByGlow(
  field: BrightnessField,
  run: FrontRun,
  lengthPixels: number,
  stride: number,
  noiseVariance: number,
): number {
  const glow = { lengthPixels, size: 0, growth: 0, isCovered: false };
  const { normal, gradient } = sumsAt(field, { run, glow }, stride, noiseVariance);
  const gainOf = (parameters: number) => {
    const g = gradient.subMatrix(0, parameters - 1, 0, 0);
    const inverted = inverse(normal.subMatrix(0, parameters - 1, 0, parameters - 1), true);
    return g.transpose().mmul(inverted).mmul(g).get(0, 0);
  };
  // The length of a glow of no size does nothing.
  return gainOf(PARAMETERS - 1) - gainOf(OF_FRONT);
}

type Evaluated = ReturnType<typeof sumsAt>;

function moved({ run, glow }: Evaluated, move: readonly number[]): readonly [FrontRun, Glow] {
  const [front, slope, logBlur, size, growth, logLength] = move;
  const { motion, numbers } = run;
  const middle = middleOf(numbers);
  return [
    {
      numbers,
      motion: {
        ...motion,
        interceptPixels: motion.interceptPixels + front - slope * middle,
        slopePixelsPerFrame: motion.slopePixelsPerFrame + slope,
        blurPixels: motion.blurPixels * Math.exp(within(0.5, logBlur)),
      },
      frontPixels: run.frontPixels.map((pixels, i) => pixels + front + slope * (numbers[i] - middle)),
    },
    {
      ...glow,
      size: glow.size + size,
      growth: glow.growth + growth,
      lengthPixels: Math.max(SHORTEST, glow.lengthPixels * Math.exp(within(0.5, logLength))),
    },
  ];
}

function within(most: number, value: number): number {
  return Math.max(-most, Math.min(most, value));
}

function middleOf(numbers: readonly number[]): number {
  return (numbers[0] + numbers[numbers.length - 1]) / 2;
}

/** Normal matrix and gradient over the noise variance, and what is left. */
function sumsAt(
  { data, frames, positions, window }: BrightnessField,
  { run, glow }: Pick<FittedGlow, "run" | "glow">,
  stride: number,
  noiseVariance: number,
) {
  const { motion, numbers, frontPixels } = run;
  const { sense, blurPixels } = motion;
  const middle = middleOf(numbers);
  const parts = Float64Array.from(numbers, partOfRun(run, positions));
  const look = { blurPixels, smearPixels: smearOf(motion) };
  const blurrier = { ...look, blurPixels: blurPixels * Math.exp(DIFFERENCE) };
  const { lengthPixels, isCovered } = glow;
  const longer = lengthPixels * Math.exp(DIFFERENCE);
  const normal = Matrix.zeros(PARAMETERS, PARAMETERS);
  const gradient = Matrix.zeros(PARAMETERS, 1);
  let squares = 0;
  let freedom = -PARAMETERS;
  for (let position = 0; position < positions; position += stride) {
    const [first, end] = window ? [window.first[position], window.end[position]] : [0, frames];
    if (end - first < 3) continue;
    const samples = new Float64Array(end - first);
    const profile = new Float64Array(end - first);
    const columns = Array.from({ length: PARAMETERS }, () => new Float64Array(end - first));
    for (let i = first, k = 0; i < end; i++, k++) {
      const behind = sense * (frontPixels[i] - position);
      const size = glow.size + glow.growth * parts[i];
      const valueAt = (at: number, as: EdgeLook) =>
        edgeAt(at, as) + size * glowAt(at, lengthPixels, isCovered, as);
      const whole = glowAt(behind, lengthPixels, isCovered, look);
      const value = edgeAt(behind, look) + size * whole;
      samples[k] = data[i * positions + position];
      profile[k] = value;
      const byFront = (sense * (valueAt(behind + DIFFERENCE, look) - value)) / DIFFERENCE;
      columns[0][k] = byFront;
      columns[SLOPE][k] = byFront * (numbers[i] - middle);
      columns[2][k] = (valueAt(behind, blurrier) - value) / DIFFERENCE;
      columns[3][k] = whole;
      columns[4][k] = whole * parts[i];
      columns[5][k] = (size * (glowAt(behind, longer, isCovered, look) - whole)) / DIFFERENCE;
    }
    const { change, basis, residual } = fitDriftingLevels(driftingLevels(samples, []), profile);
    for (const value of residual) squares += value * value;
    freedom += residual.length - basis.length;
    if (change === 0) continue;
    const shared = basis.map((unit) => columns.map((column) => dot(unit, column)));
    for (let a = 0; a < PARAMETERS; a++) {
      gradient.set(a, 0, gradient.get(a, 0) + (change * dot(columns[a], residual)) / noiseVariance);
      for (let b = 0; b <= a; b++) {
        const lost = shared.reduce((sum, of) => sum + of[a] * of[b], 0);
        const value = (change ** 2 * (dot(columns[a], columns[b]) - lost)) / noiseVariance;
        normal.set(a, b, normal.get(a, b) + value);
        if (a !== b) normal.set(b, a, normal.get(b, a) + value);
      }
    }
  }
  return { run, glow, normal, gradient, freedom, left: squares / noiseVariance };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
