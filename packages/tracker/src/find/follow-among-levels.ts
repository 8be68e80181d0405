import { followFromRise } from "../changing-levels/follow-from-rise.js";
import { followRelaxing } from "../changing-levels/follow-relaxing.js";
import { followInLight } from "../light/follow-in-light.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { followOwnForm } from "../one-front/follow-own-form.js";
import { followWithinEnds } from "../one-front/follow-within-ends.js";
import { leavesMore, misfit } from "../one-front/misfit.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** The one front that explains most of a streak, with the light that varies, with a glow ahead of it and a level behind it that
 *  settles, or with neither. */
export async function followAmongLevels(streak: StripedStreak, options: FollowOptions): Promise<Found> {
  const steady = await followDivided(streak, null, options);
  const inLight = await followInLight(streak, steady, options);
  const found = await followWithinEnds(streak, inLight, options);
  const relaxing = await followRelaxing(streak, found, options);
  // A glow fills much of the picture and looks like light that varies.
  const inSteadyLight =
    inLight === steady
      ? null
      : await followRelaxing(streak, await followWithinEnds(streak, steady, options), options);
  const [best] = [relaxing, inSteadyLight]
    .filter((one) => one !== null)
    .sort((a, b) => misfit(a) - misfit(b));
  if (best && (best.gain || !found.gain || misfit(best) < misfit(found))) return best;
  if (!found.front || leavesMore(found)) {
    const fromRise = await followFromRise(streak, found, options);
    if (fromRise) return fromRise;
  }
  // A level that settles behind the front looks like the tail of a wide edge.
  return followOwnForm(streak, found, options);
}
