import { isMoreThanNoise } from "./more-than-noise.js";
import { AHEAD, BEHIND, type Passed, sidesOf } from "./sides.js";
import { isSteadyBehind } from "./steady-behind.js";

/** A part of the picture tells of the light in a frame with this many times the noise in its brightness. */
const TELLING = 20;
/** What varies is the light only where levels times light leave no more than this, in mean squares of the noise: something that
 *  runs there leaves more. */
const MOST_LEFT = 2;
/** And at all with this share of the frames. */
const LEAST_FRAMES = 0.2;
/** Rounds in which levels and light settle between them. */
const ROUNDS = 40;

/** Brightness of one part of the picture in each frame, relative to its mean, and its variance by noise; NaN where the part
 *  does not tell. Shapes (frames,). */
interface PartLight {
  readonly gain: Float64Array;
  readonly variance: Float64Array;
  /** Mean square of what levels and light leave, over that of the noise. */
  readonly left: number;
}

/** What the part ahead of the front says of a light that is said to vary: the light is there before the front is, while the
 *  level behind a front may change by itself.
 *  - `steady`: it does not vary, though it would show what is said to; or something runs there, and behind the front it does not vary:
 *    a glow.
 *  - a gain, shape (frames,), mean 1: it varies, but not as the part behind does; where nothing is ahead, as in the frame
 *    nearest to it.
 *  - null: it agrees with the part behind, or cannot tell, as where something runs ahead of the front.
 *  @param data  row-major, shape [frames, positions]
 *  @param front  followed in the frames `kept`
 *  @param said  brightness of the whole picture, shape (frames,) */
export function lightAhead(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  front: Passed,
  kept: readonly number[],
  said: Float64Array,
): "steady" | Float64Array | null {
  const sideOf = sidesOf([frames, positions], front, kept);
  const ahead = partLight(data, sideOf, AHEAD, [frames, positions], noise);
  const told = Array.from(ahead.gain.keys()).filter((frame) => Number.isFinite(ahead.gain[frame]));
  if (told.length < LEAST_FRAMES * frames) return null;
  if (!varies(said, ahead.variance, told)) return null;
  if (!varies(ahead.gain, ahead.variance, told)) return "steady";
  if (isSteadyBehind(data, sideOf, [frames, positions], noise, said)) return "steady";
  if (ahead.left > MOST_LEFT) return null;
  const behind = partLight(data, sideOf, BEHIND, [frames, positions], noise);
  const both = told.filter((frame) => Number.isFinite(behind.gain[frame]));
  const ratio = ahead.gain.map((gain, frame) => gain / behind.gain[frame]);
  const variance = ahead.variance.map((value, frame) => value + behind.variance[frame]);
  return both.length >= LEAST_FRAMES * frames && varies(ratio, variance, both)
    ? heldBeyond(ahead.gain, told)
    : null;
}

/** Each sample is the level of its position times the light of its frame, by least squares in turn. */
function partLight(
  data: Float64Array,
  sideOf: Uint8Array,
  side: number,
  [frames, positions]: readonly [number, number],
  noise: number,
): PartLight {
  const gain = new Float64Array(frames).fill(1);
  const squares = new Float64Array(frames);
  let level: Float64Array = new Float64Array(positions);
  for (let round = 0; round < ROUNDS; round++) {
    level = quotients(positions, (add) => {
      for (let i = 0, at = 0; i < frames; i++)
        for (let p = 0; p < positions; p++, at++) if (sideOf[at] === side) add(p, gain[i], data[at]);
    });
    squares.fill(0);
    gain.set(
      quotients(frames, (add) => {
        for (let i = 0, at = 0; i < frames; i++)
          for (let p = 0; p < positions; p++, at++) {
            if (sideOf[at] !== side) continue;
            squares[i] += level[p] ** 2;
            add(i, level[p], data[at]);
          }
      }),
    );
  }
  const tells = (i: number) => squares[i] > (TELLING * noise) ** 2;
  let sum = 0;
  let count = 0;
  for (let i = 0; i < frames; i++)
    if (tells(i)) {
      sum += gain[i];
      count++;
    }
  const mean = sum / count;
  let [left, samples] = [0, 0];
  for (let i = 0, at = 0; i < frames; i++)
    for (let p = 0; p < positions; p++, at++) {
      if (sideOf[at] !== side) continue;
      left += (data[at] - level[p] * gain[i]) ** 2;
      samples++;
    }
  return {
    left: left / samples / noise ** 2,
    gain: gain.map((value, i) => (tells(i) ? value / mean : Number.NaN)),
    variance: squares.map((square, i) => (tells(i) ? noise ** 2 / square / mean ** 2 : Number.NaN)),
  };
}

/** Of each element what times `x` is nearest to `y`; 1 where nothing was added. */
function quotients(
  length: number,
  addAll: (add: (at: number, x: number, y: number) => void) => void,
): Float64Array {
  const product = new Float64Array(length);
  const square = new Float64Array(length);
  addAll((at, x, y) => {
    product[at] += x * y;
    square[at] += x * x;
  });
  return product.map((value, at) => (square[at] > 0 ? value / square[at] : 1));
}

/** Whether values vary about their mean by more than noise. */
function varies(values: Float64Array, variance: Float64Array, at: readonly number[]): boolean {
  const mean = at.reduce((sum, i) => sum + values[i] / at.length, 0);
  const seen = at.reduce((sum, i) => sum + (values[i] / mean - 1) ** 2, 0);
  const expected = at.reduce((sum, i) => sum + variance[i], 0);
  return isMoreThanNoise({ seen, expected, frames: at.length });
}

function heldBeyond(gain: Float64Array, told: readonly number[]): Float64Array {
  let nearest = 0;
  const held = gain.map((_, frame) => {
    while (
      nearest + 1 < told.length &&
      Math.abs(told[nearest + 1] - frame) <= Math.abs(told[nearest] - frame)
    )
      nearest++;
    return gain[told[nearest]];
  });
  const mean = held.reduce((sum, value) => sum + value / held.length, 0);
  return held.map((value) => value / mean);
}
