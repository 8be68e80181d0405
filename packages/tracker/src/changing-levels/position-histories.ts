import type { BrightnessField } from "../model/front-model.js";
import { edgeAt } from "./glow-at.js";
import type { Passing } from "./relaxing-columns.js";
import { type FrontRun, passings } from "./relaxing-window.js";

/** What one position shows, and how the front passes it. */
export interface History {
  /** Brightness, shape (frames,) */
  readonly samples: Float64Array;
  /** Profile of the front, shape (frames,) */
  readonly profile: Float64Array;
  readonly passing: Passing;
}

/** @param stride  every so many of the positions, >= 1; those in which no frame counts are left out */
export function historiesOf(
  { data, frames, positions, window }: BrightnessField,
  run: FrontRun,
  stride: number,
): readonly History[] {
  const passingAt = passings(run, positions);
  const histories: History[] = [];
  for (let position = 0; position < positions; position += stride) {
    const [first, end] = window ? [window.first[position], window.end[position]] : [0, frames];
    if (end <= first) continue;
    const whole = passingAt(position);
    const passing = {
      ...whole,
      behindPixels: whole.behindPixels.subarray(first, end),
      run: whole.run.subarray(first, end),
    };
    const profile = passing.behindPixels.map((behind) => edgeAt(behind, passing));
    const samples = profile.map((_, k) => data[(first + k) * positions + position]);
    histories.push({ samples, profile, passing });
  }
  return histories;
}
