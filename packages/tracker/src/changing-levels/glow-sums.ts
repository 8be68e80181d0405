import { Matrix } from "ml-matrix";
import { dot } from "../model/dot.js";
import { driftingLevels, fitDriftingLevels } from "../model/drifting-levels.js";
import { profileReach } from "../model/edge-profile.js";
import type { BrightnessField } from "../model/front-model.js";
import { smearOf } from "../model/joint-fit.js";
import { type EdgeLook, edgeAt, type GlowForm, glowAt } from "./glow-at.js";
import { type FrontRun, partOfRun } from "./relaxing-window.js";

/** Differences by which effects are told: px, and of logarithms. */
const DIFFERENCE = 0.02;
/** Of the reach of the edge: ten widths of it, beyond which the edge and what it leaves of a glow are level to all digits. */
const PASSED = 2;

/** A glow: light that runs ahead of a front, the same part of its change at all positions. */
export interface Glow {
  /** Distance in which it falls by e, px. */
  readonly lengthPixels: number;
  /** At the front, at the middle of its run, in units of the front's change. */
  readonly size: number;
  /** How much more that is at the end of the run. */
  readonly growth: number;
  /** How it meets the front: see `glowAt`. */
  readonly form: GlowForm;
  /** Whether it lights what lies behind the front as well, there as brightly as at the front. */
  readonly lightsBehind: boolean;
}

/** Part of the run by which a glow has grown in every frame: one that lights what lies behind goes on when the front has left. */
export function partsOfGrowth(
  run: FrontRun,
  positions: number,
  { lightsBehind }: Pick<Glow, "lightsBehind">,
): Float64Array {
  return Float64Array.from(run.numbers, partOfRun(run, positions, lightsBehind));
}

/** A glow of size 1, as blurred and smeared as its front: see `glowAt`. */
export function lightOf(
  { lengthPixels, form, lightsBehind }: Omit<Glow, "size" | "growth">,
  behind: number,
  look: EdgeLook,
): number {
  return glowAt(behind, lengthPixels, form, look) + (lightsBehind ? edgeAt(behind, look) : 0);
}

/** What is fitted: where the front is at the middle of the take and its slope, the logarithm of its blur, the size of the glow at
 *  the middle of the run and by how much it grows, the logarithm of its length. */
export const PARAMETERS = 6;
export const SLOPE = 1;
export const OF_FRONT = 3;

/** Normal matrix and gradient over the noise variance, and what is left. Levels drift as the field's window has it; a glow that it
 *  holds is not counted. */
export function glowSums(
  { data, frames, positions, window }: BrightnessField,
  { run, glow }: { readonly run: FrontRun; readonly glow: Glow },
  stride: number,
  noiseVariance: number,
) {
  const { motion, numbers, frontPixels } = run;
  const { sense, blurPixels } = motion;
  const middle = middleOf(numbers);
  const parts = partsOfGrowth(run, positions, glow);
  const look = { blurPixels, smearPixels: smearOf(motion), form: motion.form };
  const blurrier = { ...look, blurPixels: blurPixels * Math.exp(DIFFERENCE) };
  const longer = { ...glow, lengthPixels: glow.lengthPixels * Math.exp(DIFFERENCE) };
  // Farther behind the front nothing depends on where it is.
  const passed = PASSED * profileReach(blurrier.blurPixels, look.smearPixels);
  const litBehind = glow.lightsBehind ? 1 : 0;
  // A glow of no size, with which each take is tried, takes no time to light.
  const valueAt = (at: number, size: number, as: EdgeLook) =>
    edgeAt(at, as) + (size === 0 ? 0 : size * lightOf(glow, at, as));
  const wholeTake = () => new Float64Array(frames);
  const [ofSamples, ofProfile] = [wholeTake(), wholeTake()];
  const ofColumns = Array.from({ length: PARAMETERS }, wholeTake);
  const normal = Matrix.zeros(PARAMETERS, PARAMETERS);
  const gradient = Matrix.zeros(PARAMETERS, 1);
  let squares = 0;
  let freedom = -PARAMETERS;
  for (let position = 0; position < positions; position += stride) {
    const [first, end] = window ? [window.first[position], window.end[position]] : [0, frames];
    if (end - first < 3) continue;
    const [samples, profile] = [ofSamples.subarray(0, end - first), ofProfile.subarray(0, end - first)];
    const columns = ofColumns.map((column) => column.subarray(0, end - first).fill(0));
    for (let i = first, k = 0; i < end; i++, k++) {
      const behind = sense * (frontPixels[i] - position);
      const size = glow.size + glow.growth * parts[i];
      samples[k] = data[i * positions + position];
      if (behind > passed) {
        profile[k] = 1 + size * litBehind;
        columns[3][k] = litBehind;
        columns[4][k] = litBehind * parts[i];
        continue;
      }
      const whole = lightOf(glow, behind, look);
      const value = edgeAt(behind, look) + size * whole;
      profile[k] = value;
      const byFront = (sense * (valueAt(behind + DIFFERENCE, size, look) - value)) / DIFFERENCE;
      columns[0][k] = byFront;
      columns[SLOPE][k] = byFront * (numbers[i] - middle);
      columns[2][k] = (valueAt(behind, size, blurrier) - value) / DIFFERENCE;
      columns[3][k] = whole;
      columns[4][k] = whole * parts[i];
      columns[5][k] = size === 0 ? 0 : (size * (lightOf(longer, behind, look) - whole)) / DIFFERENCE;
    }
    const drifts = window?.drift?.(position).columns ?? [];
    const levels = driftingLevels(
      samples,
      drifts.map((column) => column.subarray(first, end)),
    );
    const { change, basis, residual } = fitDriftingLevels(levels, profile);
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

/** Frame number about which the slope turns the front. */
export function middleOf(numbers: readonly number[]): number {
  return (numbers[0] + numbers[numbers.length - 1]) / 2;
}
