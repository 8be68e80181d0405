import type { ProfileShape } from "../model/edge-profile.js";

/** A change is looked for as what stays or as what passes. */
export type ChangeShape = Exclude<ProfileShape, "pair">;

/** Evidence of a change at every position and at every possible frame of change. */
export interface ChangeInTime {
  readonly shape: ChangeShape;
  /** Signed strength in units of the noise, row-major, shape [positions, frames + 1]. Step: column k says how far
   *  the mean of frames k and later stands from that of the earlier ones (columns 0 and `frames` are 0).
   *  Pulse: column k how far a short run of frames about k stands from the rest. */
  readonly strength: Float64Array;
  readonly positions: number;
  readonly columns: number;
  /** Column of the strongest change at each position, with the wanted sign where one is wanted. */
  readonly strongest: Int32Array;
}

/** Length of the runs of frames tried for a passing pulse. */
const PULSE_RUNS = [1, 2, 4, 8, 16];

/** Splits (or short runs) of every position's history in time that explain most of its variance.
 *  @param data  row-major, shape [frames, positions]
 *  @param sign  +1 or −1: count only changes of that sign; 0: both */
export function changeInTime(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  shape: ChangeShape,
  sign: -1 | 0 | 1,
): ChangeInTime {
  const columns = frames + 1;
  const strength = new Float64Array(positions * columns);
  const strongest = new Int32Array(positions);
  const sums = new Float64Array(frames + 1);
  const roots = Float64Array.from({ length: frames }, (_, k) => Math.sqrt((k * (frames - k)) / frames));
  const strengths = shape === "step" ? splitStrengths : pulseStrengths;
  for (let p = 0; p < positions; p++) {
    sumUp(data, p, positions, sums);
    const line = strength.subarray(p * columns, (p + 1) * columns);
    strengths(sums, roots, noise, line);
    strongest[p] = strongestOf(line, sign);
  }
  return { shape, strength, positions, columns, strongest };
}

/** @param sums  of one position over the frames before each, shape (frames + 1,), the first of them 0 */
function sumUp(data: Float64Array, position: number, positions: number, sums: Float64Array): void {
  let sum = 0;
  for (let i = 1, at = position; i < sums.length; i++, at += positions) sums[i] = sum += data[at];
}

/** Clears what is not of the wanted sign, where one is.
 *  @returns column of the strongest change, or −1 */
function strongestOf(line: Float64Array, sign: -1 | 0 | 1): number {
  let best = -1;
  let largest = 0;
  for (let k = 0; k < line.length; k++) {
    if (sign !== 0 && line[k] * sign <= 0) line[k] = 0;
    const size = Math.abs(line[k]);
    if (size <= largest) continue;
    largest = size;
    best = k;
  }
  return best;
}

/** @param roots  what the noise of the difference of two means is divided by where one of them is over k frames */
function splitStrengths(sums: Float64Array, roots: Float64Array, noise: number, into: Float64Array): void {
  const frames = roots.length;
  const total = sums[frames];
  for (let k = 1; k < frames; k++) {
    const before = sums[k] / k;
    const after = (total - sums[k]) / (frames - k);
    into[k] = ((after - before) / noise) * roots[k];
  }
}

function pulseStrengths(sums: Float64Array, roots: Float64Array, noise: number, into: Float64Array): void {
  const frames = roots.length;
  const total = sums[frames];
  for (const run of PULSE_RUNS) {
    if (run > frames / 3) break;
    for (let first = 0; first + run <= frames; first++) {
      const inside = sums[first + run] - sums[first];
      const contrast = inside / run - (total - inside) / (frames - run);
      const value = (contrast / noise) * roots[run];
      const at = first + (run >> 1);
      if (Math.abs(value) > Math.abs(into[at])) into[at] = value;
    }
  }
}

/** One sudden change of a position's brightness. */
export interface Split {
  /** Frames `column` and later show it; 1..frames − 1. */
  readonly column: number;
  /** How far the levels between it and the changes before and after it stand apart, in units of the noise. */
  readonly strength: number;
  /** These levels. */
  readonly before: number;
  readonly after: number;
}

/** All significant changes at every position, in order of time: its history split where that explains most, and the
 *  parts again, until nothing significant is left.
 *  @param data  row-major, shape [frames, positions]
 *  @param least  strength from which a change counts, in units of the noise
 *  @returns shape (positions,) */
export function splitsInTime(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  least: number,
): readonly (readonly Split[])[] {
  const sums = new Float64Array(frames + 1);
  const strengthAt = (first: number, k: number, end: number) => {
    const before = (sums[k] - sums[first]) / (k - first);
    const after = (sums[end] - sums[k]) / (end - k);
    return ((after - before) / noise) * Math.sqrt(((k - first) * (end - k)) / (end - first));
  };
  const splitsWithin = (first: number, end: number): Split[] => {
    let best = -1;
    let largest = least;
    for (let k = first + 1; k < end; k++) {
      const size = Math.abs(strengthAt(first, k, end));
      if (size > largest) {
        largest = size;
        best = k;
      }
    }
    if (best < 0) return [];
    const before = splitsWithin(first, best);
    const after = splitsWithin(best, end);
    const from = before.length ? before[before.length - 1].column : first;
    const to = after.length ? after[0].column : end;
    const split = {
      column: best,
      strength: strengthAt(from, best, to),
      before: (sums[best] - sums[from]) / (best - from),
      after: (sums[to] - sums[best]) / (to - best),
    };
    return [...before, split, ...after];
  };
  return Array.from({ length: positions }, (_, p) => {
    sumUp(data, p, positions, sums);
    return splitsWithin(0, frames).filter(({ strength }) => Math.abs(strength) > least);
  });
}
