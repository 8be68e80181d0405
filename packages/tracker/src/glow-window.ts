import type { Glow } from "./fit-glow.js";
import type { Drift } from "./front-model.js";
import { glowAt } from "./glow-at.js";
import { type FrontRun, passings } from "./relaxing-window.js";
import type { StreakWindow } from "./worked-streak.js";

/** The frames of a window with a glow ahead of a front that is the same part of its change at all positions.
 *  @param within  frames that count at each position; null: all */
export function glowWindow(
  run: FrontRun,
  positions: number,
  { lengthPixels, size, growth, isCovered }: Glow,
  within: StreakWindow | null,
): StreakWindow {
  const passingAt = passings(run, positions);
  const known: (Drift | undefined)[] = [];
  const driftAt = (position: number): Drift => {
    const passing = passingAt(position);
    return {
      columns: [],
      ahead: passing.behindPixels.map(
        (behind, i) => (size + growth * passing.run[i]) * glowAt(behind, lengthPixels, isCovered, passing),
      ),
    };
  };
  return {
    first: within?.first ?? new Int32Array(positions),
    end: within?.end ?? new Int32Array(positions).fill(run.numbers.length),
    drift: (position) => {
      known[position] ??= driftAt(position);
      return known[position];
    },
  };
}
