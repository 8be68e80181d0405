import type { FollowOptions, Found } from "./follow-divided.js";
import { followInLight } from "./follow-in-light.js";
import type { StripedStreak } from "./read-streak.js";

/** Finds and follows the front in one streak.
 *  @throws what `options.pause` throws */
export async function findAndFollow(streak: StripedStreak, options: FollowOptions): Promise<Found> {
  return followInLight(streak, options);
}
