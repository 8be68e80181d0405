import { inverse } from "ml-matrix";
import type { BrightnessField } from "../model/front-model.js";
import { type Glow, glowSums, middleOf, OF_FRONT, PARAMETERS, SLOPE } from "./glow-sums.js";
import type { FrontRun } from "./relaxing-window.js";

/** Steps of the fit, which ends where a step gains less than this of the sum of squares over the noise variance. */
const STEPS = 15;
const LEAST_GAIN = 0.01;
const MOST_DAMPING = 1e6;
/** px */
const SHORTEST = 0.5;

/** Where a fit begins. */
export const NO_GLOW = { size: 0, growth: 0, form: "ended", lightsBehind: false } as const;

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
  const evaluate = (run: FrontRun, glow: Glow) => glowSums(field, { run, glow }, stride, noiseVariance);
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
  const glow: Glow = { lengthPixels, ...NO_GLOW };
  const { normal, gradient } = glowSums(field, { run, glow }, stride, noiseVariance);
  const gainOf = (parameters: number) => {
    const g = gradient.subMatrix(0, parameters - 1, 0, 0);
    const inverted = inverse(normal.subMatrix(0, parameters - 1, 0, parameters - 1), true);
    return g.transpose().mmul(inverted).mmul(g).get(0, 0);
  };
  // The length of a glow of no size does nothing.
  return gainOf(PARAMETERS - 1) - gainOf(OF_FRONT);
}

type Evaluated = ReturnType<typeof glowSums>;

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
