import { dot } from "./dot.js";

/** Parts of a regressor that the others leave of it, squared; less than this and it is one of them. */
const LEAST_LEFT = 1e-6;
/** Of what the levels do in time, the part that varies, squared; less than this and it is a constant but for rounding errors. What
 *  falls off far behind the front varies little in the few frames that the front has left a position. */
const LEAST_VARYING = 1e-18;

/** What the levels of one position do in time, whatever the front does, taken off its samples once. */
export interface DriftingLevels {
  /** Orthonormal columns that span the constant and what the levels do, each of shape (frames,). */
  readonly basis: readonly Float64Array[];
  /** What they leave of the samples, shape (frames,). */
  readonly left: Float64Array;
}

/** Least squares of one position's history on a front and on levels that drift. */
export interface DriftingFit {
  /** Of the level, at the passage. */
  readonly change: number;
  /** Variance of the change for noise of variance 1; 0 where the change cannot be told. */
  readonly changeVariance: number;
  /** Orthonormal columns that span levels and profile, each of shape (frames,). */
  readonly basis: readonly Float64Array[];
  readonly residual: Float64Array;
}

/** @param samples  shape (frames,)
 *  @param columns  what the levels do in time besides being constant, each of shape (frames,) */
export function driftingLevels(samples: Float64Array, columns: readonly Float64Array[]): DriftingLevels {
  const left = Float64Array.from(samples);
  if (samples.length === 0) return { basis: [], left };
  const constant = new Float64Array(samples.length).fill(1 / Math.sqrt(samples.length));
  takeOff(constant, left);
  const basis = [constant];
  for (const column of columns) {
    const rest = Float64Array.from(column);
    takeOff(constant, rest);
    if (dot(rest, rest) < LEAST_VARYING * dot(column, column)) continue;
    const length = projectOut(basis, rest);
    if (length === 0) continue;
    for (let i = 0; i < rest.length; i++) rest[i] /= length;
    takeOff(rest, left);
    basis.push(rest);
  }
  return { basis, left };
}

/** Fits brightness = constant + Σ columns + change·profile at one position, so that what passes or decays close behind the
 *  front, or brightens ahead of it, is not taken for part of its step.
 *  @param profile  of the front, shape (frames,) */
export function fitDriftingLevels({ basis, left }: DriftingLevels, profile: Float64Array): DriftingFit {
  const residual = Float64Array.from(left);
  const rest = Float64Array.from(profile);
  const length = projectOut(basis, rest);
  if (length === 0) return { change: 0, changeVariance: 0, basis, residual };
  for (let i = 0; i < rest.length; i++) rest[i] /= length;
  const share = takeOff(rest, residual);
  return { change: share / length, changeVariance: 1 / length ** 2, basis: [...basis, rest], residual };
}

/** Takes an orthonormal basis off a column, in place.
 *  @returns length of what is left; 0 where the basis holds the column */
function projectOut(basis: readonly Float64Array[], column: Float64Array): number {
  const whole = dot(column, column);
  // Twice: once leaves rounding errors where columns are nearly alike.
  for (let round = 0; round < 2; round++) for (const other of basis) takeOff(other, column);
  const rest = dot(column, column);
  return rest > LEAST_LEFT * whole && whole > 0 ? Math.sqrt(rest) : 0;
}

/** Takes one normed column off another, in place.
 *  @returns its share */
function takeOff(unit: Float64Array, from: Float64Array): number {
  const share = dot(unit, from);
  for (let i = 0; i < from.length; i++) from[i] -= share * unit[i];
  return share;
}
