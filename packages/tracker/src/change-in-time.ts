import type { ProfileShape } from "./edge-profile.js";

/** Evidence of a change at every position and at every possible frame of change. */
export interface ChangeInTime {
  readonly shape: ProfileShape;
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
  shape: ProfileShape,
  sign: -1 | 0 | 1,
): ChangeInTime {
  const columns = frames + 1;
  const strength = new Float64Array(positions * columns);
  const strongest = new Int32Array(positions);
  const sums = new Float64Array(frames + 1);
  for (let p = 0; p < positions; p++) {
    for (let i = 0; i < frames; i++) sums[i + 1] = sums[i] + data[i * positions + p];
    const line = strength.subarray(p * columns, (p + 1) * columns);
    if (shape === "step") splitStrengths(sums, frames, noise, line);
    else pulseStrengths(sums, frames, noise, line);
    let best = -1;
    let largest = 0;
    for (let k = 0; k < columns; k++) {
      if (sign !== 0 && line[k] * sign <= 0) line[k] = 0;
      if (Math.abs(line[k]) > largest) {
        largest = Math.abs(line[k]);
        best = k;
      }
    }
    strongest[p] = best;
  }
  return { shape, strength, positions, columns, strongest };
}

function splitStrengths(sums: Float64Array, frames: number, noise: number, into: Float64Array): void {
  const total = sums[frames];
  for (let k = 1; k < frames; k++) {
    const before = sums[k] / k;
    const after = (total - sums[k]) / (frames - k);
    into[k] = ((after - before) / noise) * Math.sqrt((k * (frames - k)) / frames);
  }
}

function pulseStrengths(sums: Float64Array, frames: number, noise: number, into: Float64Array): void {
  const total = sums[frames];
  for (const run of PULSE_RUNS) {
    if (run > frames / 3) break;
    for (let first = 0; first + run <= frames; first++) {
      const inside = sums[first + run] - sums[first];
      const contrast = inside / run - (total - inside) / (frames - run);
      const value = (contrast / noise) * Math.sqrt((run * (frames - run)) / frames);
      const at = first + (run >> 1);
      if (Math.abs(value) > Math.abs(into[at])) into[at] = value;
    }
  }
}

/** The first significant change at every position, whatever comes later. */
export interface FirstChange {
  /** Column of the change as in `ChangeInTime`; −1 where there is none. */
  readonly column: Int32Array;
  /** How far the frames before and after it, up to the next change, stand apart, in units of the noise. */
  readonly strength: Float64Array;
  /** Frame of the next change (exclusive end of what belongs to the first). */
  readonly until: Int32Array;
}

/** Splits each position's history at its most significant change, and what lies before that again, until nothing
 *  significant is left.
 *  @param data  row-major, shape [frames, positions]
 *  @param least  strength from which a change counts, in units of the noise */
export function firstChange(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  sign: -1 | 0 | 1,
  least: number,
): FirstChange {
  const column = new Int32Array(positions).fill(-1);
  const strength = new Float64Array(positions);
  const until = new Int32Array(positions).fill(frames);
  const sums = new Float64Array(frames + 1);
  const line = new Float64Array(frames + 1);
  for (let p = 0; p < positions; p++) {
    for (let i = 0; i < frames; i++) sums[i + 1] = sums[i] + data[i * positions + p];
    for (let end = frames; end > 1; ) {
      splitStrengths(sums, end, noise, line);
      let best = 1;
      for (let k = 2; k < end; k++) if (Math.abs(line[k]) > Math.abs(line[best])) best = k;
      if (Math.abs(line[best]) < least) break;
      if (sign === 0 || line[best] * sign > 0) {
        column[p] = best;
        strength[p] = line[best];
        until[p] = end;
      }
      end = best;
    }
  }
  return { column, strength, until };
}
