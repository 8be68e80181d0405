import type { Drift } from "../model/front-model.js";
import type { StreakWindow } from "../model/worked-streak.js";

/** A window whose levels drift; what they do is worked out once for each position that is asked for.
 *  @param within  frames that count at each position; null: all
 *  @param driftAt  what the levels of a position do, in all frames */
export function driftWindow(
  frames: number,
  positions: number,
  within: StreakWindow | null,
  driftAt: (position: number) => Drift,
): StreakWindow {
  const known: (Drift | undefined)[] = [];
  return {
    first: within?.first ?? new Int32Array(positions),
    end: within?.end ?? new Int32Array(positions).fill(frames),
    drift: (position) => {
      known[position] ??= driftAt(position);
      return known[position];
    },
  };
}
