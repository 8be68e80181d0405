import type { FollowOptions, Found } from "./follow-divided.js";
import { followInLight } from "./follow-in-light.js";
import { followThroughClutter, surerReading } from "./follow-through-clutter.js";
import { leavesMore } from "./misfit.js";
import type { StripedStreak } from "./read-streak.js";

/** Finds and follows the front in one streak.
 *  @throws what `options.pause` throws */
export async function findAndFollow(streak: StripedStreak, options: FollowOptions): Promise<Found> {
  const found = await followInLight(streak, options);
  if (found.front && !leavesMore(found)) return found;
  const { strongest, first } = await followThroughClutter(streak, found, options);
  for (const f of [found, strongest, first])
    if (f?.front)
      console.log(
        "  slope",
        f.front.line.slope.toFixed(4),
        "u",
        f.front.line.slopeStandardUncertainty.toFixed(4),
        "misfit",
        (await import("./misfit.js")).misfit(f).toFixed(2),
        "blur",
        f.front.motion.blurPixels.toFixed(2),
        f.front.motion.shape,
        "n",
        f.front.frames.length,
      );
    else console.log("  none");
  return surerReading(strongest, first);
}
