import { median } from "@frontpace/fit";
import { arrivalFrame, firstFrameFrom, riseFrames } from "../model/passage.js";
import { workedStreak } from "../model/worked-streak.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { Found } from "./follow-divided.js";
import { clearlySeen } from "./seen-positions.js";

/** Frames on either side of the passage through which a line is laid, at least. */
const LEAST_FRAMES = 4;
/** Part of its change by which a front jumps, at least. */
const LEAST_JUMP = 0.3;

/** Whether the brightness jumps where a front passes: lines through the frames before its passage and after it, carried on to its middle, stand
 *  apart there by a good part of its change, at most positions at which it is seen. Where what falls evenly behind another front has come to its
 *  end they meet: that is a bend, and runs along as sharply as a front. */
export function isSudden(
  streak: StripedStreak,
  { front, tangent, kept, gain }: Pick<Found, "front" | "tangent" | "kept" | "gain">,
): boolean {
  if (front?.motion.shape !== "step" || tangent !== 0) return true;
  const { field, numbers } = workedStreak(streak, gain, kept);
  const rise = riseFrames(front.motion);
  const reach = Math.max(LEAST_FRAMES, rise);
  const parts = clearlySeen(front).flatMap(({ position, change }) => {
    const arrival = arrivalFrame(front.motion, position);
    const at = (from: number, to: number) => {
      const range = { first: firstFrameFrom(numbers, from), end: firstFrameFrom(numbers, to) };
      return carriedTo(arrival, numbers, range, (k) => field.data[k * field.positions + position]);
    };
    const before = at(arrival - rise - reach, arrival - rise);
    const after = at(arrival + rise, arrival + rise + reach);
    return before === null || after === null ? [] : [(after - before) / change];
  });
  return parts.length === 0 || median(parts) > LEAST_JUMP;
}

/** A line through the values of some frames, at a frame number; null where they are too few. */
function carriedTo(
  number: number,
  numbers: readonly number[],
  { first, end }: { readonly first: number; readonly end: number },
  valueAt: (k: number) => number,
): number | null {
  const count = end - first;
  if (count < LEAST_FRAMES - 1) return null;
  let [ofNumbers, ofValues] = [0, 0];
  for (let k = first; k < end; k++) {
    ofNumbers += numbers[k] / count;
    ofValues += valueAt(k) / count;
  }
  let [squares, products] = [0, 0];
  for (let k = first; k < end; k++) {
    squares += (numbers[k] - ofNumbers) ** 2;
    products += (numbers[k] - ofNumbers) * valueAt(k);
  }
  return ofValues + (products / squares) * (number - ofNumbers);
}
