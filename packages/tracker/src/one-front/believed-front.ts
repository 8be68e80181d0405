import type { StripedStreak } from "../streak/read-streak.js";
import type { FollowOptions, Found } from "./follow-divided.js";
import type { FollowedFront } from "./follow-front.js";
import { isTakenBack } from "./is-taken-back.js";
import { seenPositions } from "./seen-positions.js";
import { shareOfWidth } from "./share-of-width.js";

/** A front is clearly seen at this part of the positions that it passes, above all that it leaves. */
const LEAST_SEEN = 0.5;
/** What passes and leaves nothing covers this part of the width and runs this part of the path, or else most of a path that
 *  was given: the rest is a spot that flies past. */
const LEAST_COVERED = 0.6;
const LEAST_RUN = 1 / 3;
const MOST_OF_GIVEN = 0.8;

/** Why what was followed is no front: its changes do not stand out from what it leaves, or it is a spot. */
export type Disbelief = "unclear" | "spot";

/** What was followed, without its front where that is but a line through changes that have nothing to do with each other
 *  (glints here and there), or a spot in a part of the width (a fragment that flies along the path). */
export function believedFront(
  streak: StripedStreak,
  found: Found,
  { isPathGiven }: Pick<FollowOptions, "isPathGiven">,
): Found {
  if (!found.front) return found;
  if (!isSeenAlong(found)) return { ...found, front: null, disbelief: "unclear" };
  const runsAlong = isPathGiven && seenPositions(found.front).length >= MOST_OF_GIVEN * streak.shape[1];
  return !runsAlong && isSpot(streak, found) ? { ...found, front: null, disbelief: "spot" } : found;
}

/** Whether the change is clearly seen at most of the positions that the front passes in the frames that show it. */
export function isSeenAlong({ front }: Pick<Found, "front">): boolean {
  if (!front) return false;
  const { low, high } = passedPixels(front);
  const isPassed = (position: number) => position >= low && position <= high;
  const count = front.models.filter(({ position }) => isPassed(position)).length;
  return seenPositions(front).filter(isPassed).length >= LEAST_SEEN * count;
}

function passedPixels({ frames, state }: FollowedFront) {
  const passed = frames.map((k) => state.frontPixels[k]);
  return { low: Math.min(...passed), high: Math.max(...passed) };
}

function isSpot(streak: StripedStreak, found: Found): boolean {
  return (coversLittle(streak, found) || runsLittle(streak, found)) && isTakenBack(streak, found);
}

function coversLittle(streak: StripedStreak, found: Found): boolean {
  const share = shareOfWidth(streak, found);
  return share !== null && share < LEAST_COVERED;
}

function runsLittle(streak: StripedStreak, { front }: Found): boolean {
  if (!front) return false;
  const { low, high } = passedPixels(front);
  return high - low < LEAST_RUN * streak.shape[1];
}
