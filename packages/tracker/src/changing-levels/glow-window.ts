import type { StreakWindow } from "../model/worked-streak.js";
import { driftWindow } from "./drift-window.js";
import { type Glow, lightOf, partsOfGrowth } from "./glow-sums.js";
import { type FrontRun, passings } from "./relaxing-window.js";

/** The frames of a window, its levels drifting as they do, with a glow of a front that is the same part of its change at all positions.
 *  @param within  frames that count at each position; null: all */
export function glowWindow(
  run: FrontRun,
  positions: number,
  glow: Glow,
  within: StreakWindow | null,
): StreakWindow {
  const passingAt = passings(run, positions);
  const parts = partsOfGrowth(run, positions, glow);
  return driftWindow(run.numbers.length, positions, within, (position) => {
    const passing = passingAt(position);
    const sizeIn = (frame: number) => glow.size + glow.growth * parts[frame];
    const ahead = passing.behindPixels.map((behind, i) => sizeIn(i) * lightOf(glow, behind, passing));
    return { columns: within?.drift?.(position).columns ?? [], ahead };
  });
}
