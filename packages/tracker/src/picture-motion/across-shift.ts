import type { StripedStreak } from "../streak/read-streak.js";
import { judgeAcross, variancesOf } from "./judge-across.js";
import { LEAST_GAINED, LEAST_GAINED_IN_FRAME, LEAST_SURE_PIXELS } from "./motion-criteria.js";
import { type RegisteredPicture, registerStriped } from "./register-striped.js";
import { splineLine } from "./spline-line.js";
import type { SteadySamples } from "./steady-samples.js";
import { type StripedPicture, type StripedShift, StripedTexture } from "./striped-texture.js";

/** How far the picture lies across the path from where it lay. */
export interface AcrossShift {
  /** px to the path's right hand, as the offsets of the strips, about their median; shape (frames,). Where the texture
   *  does not tell, on the straight line between those beside it. */
  readonly shiftPixels: Float64Array;
  /** Of the frames whose texture tells, root mean square, px. */
  readonly standardUncertaintyPixels: number;
}

/** A picture at rest is told by so many frames. */
const FRAMES_AT_REST = 40;
const FEWEST_STRIPS = 4;
const ROUNDS = 4;
const SETTLED_STRIPS = 0.02;
const NO_LIGHT = { gain: 1, offset: 0, ramp: 0 };

/** Shift of each frame across the path, from the texture in the parts of the width, ahead of the front and where that is
 *  covered behind it. A few frames laid over their mean tell at once whether the picture moves so at all.
 *  @returns null where it does not, or no texture tells */
export function acrossShift(
  { strips, stripOffsetsPixels, stripCounts, shape }: StripedStreak,
  { ahead, behind }: SteadySamples,
): AcrossShift | null {
  const [frames, positions] = shape;
  if (strips.length < FEWEST_STRIPS || stripCounts.some((counts) => counts.includes(0))) return null;
  const stripPixels = (stripOffsetsPixels[strips.length - 1] - stripOffsetsPixels[0]) / (strips.length - 1);
  const linesOf = (i: number) => strips.map((strip) => strip.subarray(i * positions, (i + 1) * positions));
  const pictures: (StripedPicture | undefined)[] = [];
  const pictureOf = (i: number) => {
    pictures[i] ??= { lines: linesOf(i).map((line) => splineLine(line)), firstStrip: 0 };
    return pictures[i];
  };
  const judge = (registered: readonly (RegisteredPicture | null)[]) =>
    judgeAcross(registered, Math.abs(stripPixels));

  const step = Math.max(1, Math.ceil(frames / FRAMES_AT_REST));
  const few = Array.from({ length: Math.ceil(frames / step) }, (_, k) => k * step);
  const still = new StripedTexture(strips.length, positions);
  for (const i of few) still.add(pictureOf(i), ahead[i], [0, 0], NO_LIGHT);
  const stillPicture = still.picture();
  const atRest = few.map((i) => registerStriped(stillPicture, linesOf(i), ahead[i], [0, 0], { steps: 0 }));
  if (!judge(atRest)?.moves) return null;

  const shifts: StripedShift[] = Array.from({ length: frames }, () => [0, 0] as const);
  let registered: (RegisteredPicture | null)[] = Array.from({ length: frames }, () => null);
  let texture = new StripedTexture(strips.length, positions);
  let last: StripedShift = [0, 0];
  let picture = texture.picture();
  for (let i = 0; i < frames; i++) {
    const seen = registerStriped(picture, linesOf(i), ahead[i], last, { search: true });
    registered[i] = seen;
    if (!seen && i > 0) continue;
    if (seen) last = seen.shift;
    shifts[i] = last;
    texture.add(pictureOf(i), ahead[i], last, seen?.light ?? NO_LIGHT);
    picture = texture.picture();
  }
  for (let round = 0; round < ROUNDS; round++) {
    texture = new StripedTexture(strips.length, positions);
    registered.forEach((seen, i) => {
      if (seen || (round === 0 && i === 0))
        texture.add(pictureOf(i), ahead[i], shifts[i], seen?.light ?? NO_LIGHT);
    });
    picture = texture.picture();
    let largest = 0;
    registered = registered.map((_, i) => {
      const seen = registerStriped(picture, linesOf(i), ahead[i], shifts[i]);
      if (seen) {
        largest = Math.max(largest, Math.abs(seen.shift[1] - shifts[i][1]));
        shifts[i] = seen.shift;
      }
      return seen;
    });
    if (largest < SETTLED_STRIPS) break;
  }
  const seen = judge(registered);
  if (!seen?.moves) return null;
  const least = Math.max(LEAST_GAINED * seen.promised, LEAST_GAINED_IN_FRAME * seen.known.length);
  if (!(gained(registered, stillPicture, linesOf) > least)) return null;

  // The frames that the texture ahead does not place, laid over what the others show behind the front, and added to it.
  const known = new Map(seen.known.map((i) => [i, shifts[i]]));
  const left = new StripedTexture(strips.length, positions);
  for (const [i, shift] of known) left.add(pictureOf(i), behind[i], shift, NO_LIGHT);
  let behindPicture = left.picture();
  last = shifts[seen.known[0]];
  for (let i = 0; i < frames; i++) {
    const told = known.get(i);
    const there = told ? null : registerStriped(behindPicture, linesOf(i), behind[i], last, { search: true });
    if (there && variancesOf(there)[0] * stripPixels ** 2 < LEAST_SURE_PIXELS ** 2) {
      known.set(i, there.shift);
      left.add(pictureOf(i), behind[i], there.shift, there.light);
      behindPicture = left.picture();
    }
    last = known.get(i) ?? last;
  }
  const shiftPixels = joined(known, frames).map((strip) => strip * stripPixels);
  const middle = Float64Array.from(shiftPixels).sort()[frames >> 1];
  return {
    shiftPixels: shiftPixels.map((shift) => shift - middle),
    standardUncertaintyPixels: seen.standardUncertaintyPixels,
  };
}

/** How much less the moving texture leaves of the frames than one that lies still, in variances. */
function gained(
  registered: readonly (RegisteredPicture | null)[],
  still: StripedPicture,
  linesOf: (frame: number) => readonly Float64Array[],
): number {
  let sum = 0;
  registered.forEach((seen, i) => {
    if (!seen) return;
    const { place, residual, shift, variance } = seen;
    const from = Math.round(place[0] + shift[0]);
    const to = Math.round(place[residual.length - 1] + shift[0]) + 1;
    const atRest = registerStriped(still, linesOf(i), [from, to], [0, 0], { steps: 0 });
    if (!atRest) return;
    // Its residuals are those after the next step.
    const { move, light } = atRest;
    const step = (move[1] * light.gain) ** 2 * variancesOf(atRest)[1];
    sum += ((atRest.variance - variance) * residual.length + step) / variance;
  });
  return sum;
}

/** Shifts across of all frames, those unknown on the straight line between their neighbours. */
function joined(known: ReadonlyMap<number, StripedShift>, frames: number): Float64Array {
  const at = Array.from(known.keys()).sort((a, b) => a - b);
  const shiftAt = (i: number) => (known.get(i) as StripedShift)[1];
  return Float64Array.from({ length: frames }, (_, i) => {
    const after = at.find((k) => k >= i);
    const before = at.findLast((k) => k <= i);
    if (after === undefined || before === undefined) return shiftAt(after ?? (before as number));
    if (after === before) return shiftAt(i);
    return shiftAt(before) + ((shiftAt(after) - shiftAt(before)) * (i - before)) / (after - before);
  });
}
