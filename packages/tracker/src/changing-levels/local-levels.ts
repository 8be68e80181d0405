import { profileReach } from "../model/edge-profile.js";
import type { FrontState } from "../model/front-model.js";
import type { StreakWindow } from "../model/worked-streak.js";

/** Part of the way on which the front must be seen with whole windows. */
const LEAST_WAY = 0.5;

/** The frames about the passage of the front at each position: those in which it is near, and so many before and after.
 *  Levels read there leave out what changes long before or after (a cloud that passes, a level that decays, later
 *  fragments); what changes close behind the front biases all positions alike and leaves the speed alone, because
 *  positions whose window the take cuts short are left out, too.
 *  @param margin  frames before and after, >= 1
 *  @returns null where whole windows are left on less than half of the way that the front runs */
export function localWindow(
  { frontPixels, blurPixels, smearPixels }: FrontState,
  positions: number,
  margin: number,
): StreakWindow | null {
  const frames = frontPixels.length;
  const reach = profileReach(blurPixels, smearPixels);
  const first = new Int32Array(positions);
  const end = new Int32Array(positions);
  let passed = 0;
  let whole = 0;
  for (let p = 0; p < positions; p++) {
    let from = 0;
    while (from < frames && Math.abs(frontPixels[from] - p) > reach) from++;
    let to = frames;
    while (to > from && Math.abs(frontPixels[to - 1] - p) > reach) to--;
    if (to === from) {
      // Between two frames: the front is nowhere near in any.
      from = between(frontPixels, p);
      to = from;
    }
    if (from <= 0 || to >= frames) continue;
    passed++;
    if (from < margin || to > frames - margin) continue;
    first[p] = from - margin;
    end[p] = to + margin;
    whole++;
  }
  return whole > 0 && whole >= LEAST_WAY * passed ? { first, end } : null;
}

/** Index of the first frame in which the front has passed the position; 0 where it never does. */
function between(frontPixels: Float64Array, position: number): number {
  const before = frontPixels[0] > position;
  return Math.max(
    0,
    frontPixels.findIndex((front) => front > position !== before),
  );
}
