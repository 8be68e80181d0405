import type { StripedStreak } from "../streak/read-streak.js";
import type { BrightnessField } from "./front-model.js";

/** A streak as it is worked on: flicker divided out, frames left out. */
export interface WorkedStreak {
  readonly numbers: readonly number[];
  /** Of the whole width. */
  readonly field: BrightnessField;
  /** Of the parts of the width; each like the data of `field`. Worked out when they are asked for. */
  readonly strips: readonly Float64Array[];
}

/** Frames of a streak that count at each position, `first` to `end` (exclusive), shapes (positions,). */
export type StreakWindow = NonNullable<BrightnessField["window"]>;

/** @param gain  brightness of the light in each frame of the streak, or null
 *  @param kept  indices of the frames to keep, increasing
 *  @param window  in frames of the streak; null: all */
export function workedStreak(
  streak: StripedStreak,
  gain: Float64Array | null,
  kept: readonly number[],
  window: StreakWindow | null = null,
): WorkedStreak {
  const [frames, positions] = streak.shape;
  const linesOf = (data: Float64Array) => {
    if (!gain && kept.length === frames) return data;
    const lines = new Float64Array(kept.length * positions);
    kept.forEach((frame, k) => {
      const divisor = gain ? gain[frame] : 1;
      for (let p = 0; p < positions; p++) lines[k * positions + p] = data[frame * positions + p] / divisor;
    });
    return lines;
  };
  let strips: readonly Float64Array[] | null = null;
  return {
    numbers: kept.map((frame) => streak.frameNumbers[frame]),
    field: {
      data: linesOf(streak.data),
      frames: kept.length,
      positions,
      ...(window && { window: withinKept(window, kept) }),
    },
    get strips() {
      strips ??= streak.strips.map(linesOf);
      return strips;
    },
  };
}

/** The frames that count in two windows; null: all. Levels drift as in the first.
 *  @param b  of constant levels */
export function bothWindows(a: StreakWindow | null, b: StreakWindow): StreakWindow {
  if (!a) return b;
  const first = b.first.map((value, p) => Math.max(value, a.first[p]));
  const end = b.end.map((value, p) => Math.max(first[p], Math.min(value, a.end[p])));
  return { ...a, first, end };
}

/** The window counted in the frames that are kept. */
function withinKept({ first, end, drift }: StreakWindow, kept: readonly number[]): StreakWindow {
  const placeOf = (frame: number) => {
    const place = kept.findIndex((index) => index >= frame);
    return place < 0 ? kept.length : place;
  };
  return {
    first: first.map(placeOf),
    end: end.map(placeOf),
    ...(drift && {
      drift: (position: number) => {
        const { columns, ahead } = drift(position);
        const ofKept = (column: Float64Array) => Float64Array.from(kept, (frame) => column[frame]);
        return { columns: columns.map(ofKept), ...(ahead && { ahead: ofKept(ahead) }) };
      },
    }),
  };
}
