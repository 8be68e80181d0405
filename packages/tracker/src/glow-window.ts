import { driftWindow } from "./drift-window.js";
import { glowAt } from "./glow-at.js";
import type { Glow } from "./glow-sums.js";
import { type FrontRun, passings } from "./relaxing-window.js";
import type { StreakWindow } from "./worked-streak.js";

/** The frames of a window with a glow ahead of a front that is the same part of its change at all positions.
 *  @param within  frames that count at each position; null: all */
export function glowWindow(
  run: FrontRun,
  positions: number,
  { lengthPixels, size, growth, form }: Glow,
  within: StreakWindow | null,
): StreakWindow {
  const passingAt = passings(run, positions);
  return driftWindow(run.numbers.length, positions, within, (position) => {
    const passing = passingAt(position);
    const sizeIn = (frame: number) => size + growth * passing.run[frame];
    const ahead = passing.behindPixels.map(
      (behind, i) => sizeIn(i) * glowAt(behind, lengthPixels, form, passing),
    );
    return { columns: [], ahead };
  });
}
