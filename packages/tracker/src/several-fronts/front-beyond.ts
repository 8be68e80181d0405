import { believedFront } from "../one-front/believed-front.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { withoutFront } from "./without-front.js";

/** A front that shows only once another is taken off: where two cross, each changes what the other left, and the changes of
 *  one are not of one size or sense, so that no line of them is voted for.
 *  @returns null where there is none to be believed
 *  @throws what `options.pause` throws */
export async function frontBeyond(
  streak: StripedStreak,
  front: Found,
  options: FollowOptions,
): Promise<Found | null> {
  const rest = withoutFront(streak, front);
  if (!rest) return null;
  const found = believedFront(rest, await followDivided(rest, front.gain, options), options);
  return found.front ? found : null;
}
