import { meansInTime } from "../timing/means-in-time.js";

/** Frames from one sum that is kept to the next: the few between are added when a sum is asked for. */
const APART = 16;

/** Sums of each position over the frames before any frame, of its samples less their mean. */
export interface SumsInTime {
  /** Of all frames, each of shape (positions,): mean, sum and sum of squares of what is left of it. */
  readonly means: Float64Array;
  readonly total: Float64Array;
  readonly squares: Float64Array;
  /** Over the frames before each `APART`-th, row-major, shape [⌈frames / APART⌉, positions]. */
  readonly kept: Float64Array;
}

/** By streak: the same are asked for several times. */
const known = new WeakMap<Float64Array, SumsInTime>();

/** @param data  row-major, shape [frames, positions]; must stay as it is */
export function sumsInTime(data: Float64Array, frames: number, positions: number): SumsInTime {
  const sums = known.get(data) ?? summedUp(data, frames, positions);
  known.set(data, sums);
  return sums;
}

function summedUp(data: Float64Array, frames: number, positions: number): SumsInTime {
  const means = meansInTime(data, frames, positions);
  const total = new Float64Array(positions);
  const squares = new Float64Array(positions);
  const kept = new Float64Array(Math.ceil(frames / APART) * positions);
  for (let i = 0; i < frames; i++) {
    if (i % APART === 0) kept.set(total, (i / APART) * positions);
    addFrame(total, squares, means, data, i * positions);
  }
  return { means, total, squares, kept };
}

function addFrame(
  total: Float64Array,
  squares: Float64Array,
  means: Float64Array,
  data: Float64Array,
  from: number,
): void {
  for (let p = 0; p < total.length; p++) {
    const y = data[from + p] - means[p];
    total[p] += y;
    squares[p] += y * y;
  }
}

/** Sum of one position over the frames before one, of its samples less their mean. */
export function sumBefore(
  { means, kept }: SumsInTime,
  data: Float64Array,
  position: number,
  frame: number,
): number {
  const positions = means.length;
  const mean = means[position];
  // Where all frames are asked for there may be none kept behind the last.
  const row = Math.min(Math.floor(frame / APART), kept.length / positions - 1);
  let sum = kept[row * positions + position];
  for (let i = row * APART; i < frame; i++) sum += data[i * positions + position] - mean;
  return sum;
}

/** Sum of the squares of one position's samples less their mean, over the frames from one to another, end exclusive. */
export function squaresBetween(
  { means }: SumsInTime,
  data: Float64Array,
  position: number,
  first: number,
  end: number,
): number {
  const positions = means.length;
  const mean = means[position];
  let squares = 0;
  for (let i = first; i < end; i++) {
    const y = data[i * positions + position] - mean;
    squares += y * y;
  }
  return squares;
}
