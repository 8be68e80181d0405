import { median } from "@frontpace/fit";
import type { PositionModel } from "../model/front-model.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FollowOptions, Found } from "./follow-divided.js";
import type { FollowedFront } from "./follow-front.js";
import { isTakenBack } from "./is-taken-back.js";
import { clearlySeen, expectedToShow, seenPositions } from "./seen-positions.js";
import { shareOfWidth } from "./share-of-width.js";

/** A front is clearly seen at this part of the positions that it passes, above all that it leaves. */
const LEAST_SEEN = 0.5;
/** Or, where a path was given, it is alike along all of that, if no more than what follows it, or the noise, at any one position: this part of them
 *  change in one sense, by this part of what they do on the median or more. Changes that have nothing to do with each other are of either sense
 *  or differ by more; a fragment is alike, too, and flies where it will. */
const THROUGHOUT = 0.9;
const ALIKE = 1 / 3;
/** Fewer positions than this can be alike by chance. */
const FEWEST_ALIKE = 30;
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
  if (!isSeenAlong(found) && !(isPathGiven && isAlikeAlong(streak, found)))
    return { ...found, front: null, disbelief: "unclear" };
  const runsAlong = isPathGiven && seenPositions(found.front).length >= MOST_OF_GIVEN * streak.shape[1];
  return !runsAlong && isSpot(streak, found) ? { ...found, front: null, disbelief: "spot" } : found;
}

/** Whether the change is clearly seen at most of the positions that the front passes in the frames that show it. */
export function isSeenAlong({ front }: Pick<Found, "front">): boolean {
  if (!front) return false;
  const passed = expectedToShow({ ...front, models: passedModels(front) });
  return passed.length > 0 && clearlySeen({ ...front, models: passed }).length >= LEAST_SEEN * passed.length;
}

function isAlikeAlong(streak: StripedStreak, { front }: Pick<Found, "front">): boolean {
  const changes = front ? passedModels(front).map(({ change }) => change) : [];
  if (changes.length < Math.max(FEWEST_ALIKE, MOST_OF_GIVEN * streak.shape[1])) return false;
  const usual = median(changes);
  const alike = changes.filter((change) => change * Math.sign(usual) >= ALIKE * Math.abs(usual));
  return usual !== 0 && alike.length >= THROUGHOUT * changes.length;
}

/** The models of the positions that the front passes in the frames that show it. */
function passedModels(front: FollowedFront): readonly PositionModel[] {
  const { low, high } = passedPixels(front);
  return front.models.filter(({ position }) => position >= low && position <= high);
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
