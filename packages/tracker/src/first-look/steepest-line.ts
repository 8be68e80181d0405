import { robustLine } from "@frontpace/fit";
import type { BrightnessField } from "../model/front-model.js";
import { voteTolerance } from "./first-line.js";

/** Frames from one sample to the other between which the change is looked for, tried in turn: a slow front takes many. */
const LAGS = [1, 3, 9];
/** A change counts from so many times the noise. */
const CLEAR = 8;
/** Positions that change most in the same sense, and these on one line, as parts of those that change at all; and no fewer. */
const ONE_SENSE = 0.9;
const ON_LINE = 0.7;
const FEWEST = 12;

/** A straight line through the frames in which positions change fastest, whatever they do before and after: where a front rises, also one
 *  that falls back to nothing.
 *  @param sign  counts only changes of this sign; 0: both
 *  @returns frame number at position 0, and frames a px; null where most positions do not lie on one */
export function steepestLine(
  { data, frames, positions }: BrightnessField,
  frameNumbers: readonly number[],
  noise: number,
  sign: -1 | 0 | 1,
): { readonly frameAtOrigin: number; readonly framesPerPixel: number } | null {
  for (const lag of LAGS) {
    const places: number[] = [];
    const times: number[] = [];
    let rising = 0;
    for (let p = 0; p < positions; p++) {
      let most = CLEAR * noise;
      let steepest: { readonly end: number; readonly change: number } | null = null;
      for (let end = lag; end < frames; end++) {
        const change = data[end * positions + p] - data[(end - lag) * positions + p];
        const size = sign === 0 ? Math.abs(change) : sign * change;
        if (size > most) [most, steepest] = [size, { end, change }];
      }
      if (!steepest) continue;
      const { end, change } = steepest;
      places.push(p);
      times.push((frameNumbers[end] + frameNumbers[end - lag]) / 2);
      if (change > 0) rising++;
    }
    const changing = places.length;
    if (changing < FEWEST || Math.max(rising, changing - rising) < ONE_SENSE * changing) continue;
    const line = robustLine(places, times, { tolerance: voteTolerance(times) });
    if (!line || line.support.length < ON_LINE * changing) continue;
    const isAtOnce = Math.abs(line.slope) * positions < 1;
    return isAtOnce ? null : { frameAtOrigin: line.intercept, framesPerPixel: line.slope };
  }
  return null;
}
