import { type NormalSample, sampleNormal } from "./normal-distribution.js";

/** Parts of a regressor that the others leave of it, squared; less than this and it is one of them. */
const LEAST_LEFT = 1e-6;

/** Least squares of one position's history on a front and on levels that drift. */
export interface SlopingFit {
  /** Of the level, at the passage. */
  readonly change: number;
  /** Variance of the change for noise of variance 1; 0 where the change cannot be told. */
  readonly changeVariance: number;
  /** Orthonormal columns that span levels, slopes and profile, each of shape (frames,). */
  readonly basis: readonly Float64Array[];
  readonly residual: Float64Array;
}

/** Fits brightness = before + slope·t + change·profile + bend·ramp at one position: the level before and that behind the
 *  front each have a slope of their own in time, so that what passes or decays close behind the front, or brightens ahead
 *  of it, is not taken for part of its step. The ramp is the integral of the front's own rise.
 *  @param samples  shape (frames,)
 *  @param profile  of the front, shape (frames,)
 *  @param passage  when it passes, in frames of `samples`
 *  @param rise  standard deviation of its rise, frames */
export function fitSlopingLevels(
  samples: Float64Array,
  profile: Float64Array,
  passage: number,
  rise: number,
): SlopingFit {
  const frames = samples.length;
  const basis: Float64Array[] = [];
  const project = (column: Float64Array) => {
    const left = Float64Array.from(column);
    const whole = dot(column, column);
    // Twice: once leaves rounding errors where columns are nearly alike.
    for (let round = 0; round < 2; round++)
      for (const other of basis) {
        const share = dot(other, left);
        for (let i = 0; i < frames; i++) left[i] -= share * other[i];
      }
    const rest = dot(left, left);
    return rest > LEAST_LEFT * whole && whole > 0 ? { left, length: Math.sqrt(rest) } : null;
  };
  const add = (column: Float64Array) => {
    const told = project(column);
    if (told) basis.push(told.left.map((value) => value / told.length));
    return told;
  };
  add(new Float64Array(frames).fill(1));
  add(Float64Array.from({ length: frames }, (_, i) => i - passage));
  add(Float64Array.from({ length: frames }, (_, i) => ramp(i - passage, rise)));
  const told = add(profile);
  const residual = Float64Array.from(samples);
  for (const column of basis) {
    const share = dot(column, residual);
    for (let i = 0; i < frames; i++) residual[i] -= share * column[i];
  }
  const change = told ? dot(basis[basis.length - 1], samples) / told.length : 0;
  return {
    change,
    changeVariance: told ? 1 / told.length ** 2 : 0,
    basis,
    residual,
  };
}

const sample: NormalSample = { density: 0, distribution: 0 };

/** The integral of a normal distribution of standard deviation `rise`. */
function ramp(time: number, rise: number): number {
  const z = time / rise;
  sampleNormal(z, sample);
  return rise * (z * sample.distribution + sample.density);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
