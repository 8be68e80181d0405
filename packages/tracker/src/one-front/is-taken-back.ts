import { median } from "@frontpace/fit";
import type { FrontMotion } from "../model/joint-fit.js";
import { arrivalFrame, riseFrames } from "../model/passage.js";
import { workedStreak } from "../model/worked-streak.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { Found } from "./follow-divided.js";
import { clearlySeen } from "./seen-positions.js";
import { shearStrips } from "./shear-strips.js";

/** A change is taken back where this part of it is left of it between the levels long before and long after, or less. */
const TAKEN_BACK = 0.4;
/** Fewer frames than this tell no level. */
const LEAST_FRAMES = 3;

/** Whether what a followed front changes lasts no longer than it takes to pass, at most of the positions at which it is
 *  seen: what flies past leaves nothing. All frames before and after the passage count, whatever window it was followed in:
 *  one that begins in the middle of what passes shows a change that stays.
 *  @param beside  another front that passes; frames up to its passage count, or those after it, whichever hold the first's */
export function isTakenBack(
  streak: StripedStreak,
  { front, tangent, kept, gain }: Pick<Found, "front" | "tangent" | "kept" | "gain">,
  beside?: FrontMotion,
): boolean {
  if (!front) return false;
  if (front.motion.shape !== "step") return true;
  const worked = workedStreak(streak, gain, kept);
  const { numbers } = worked;
  const followedIn = tangent === 0 ? null : shearStrips(worked.strips, streak, tangent);
  const { data, frames, positions } = followedIn?.field ?? worked.field;
  const onPath = (position: number) => position + (followedIn?.firstPixels ?? 0);
  const levelOf = (position: number, from: number, to: number) =>
    median(Array.from({ length: to - from }, (_, k) => data[(from + k) * positions + position]));
  const left = clearlySeen(front).flatMap(({ position, change, near }) => {
    if (near.length === 0) return [];
    const [first, end] = [near[0], near[near.length - 1] + 1];
    const [from, to] = beside ? sideOf(beside, onPath(position), numbers, (first + end) / 2) : [0, frames];
    if (first - from < LEAST_FRAMES || to - end < LEAST_FRAMES) return [];
    return [(levelOf(position, end, to) - levelOf(position, from, first)) / change];
  });
  return left.length > 0 && median(left) < TAKEN_BACK;
}

/** The frames before the passage of a front at a position, or those after it: the side on which a frame lies. */
function sideOf(
  motion: FrontMotion,
  position: number,
  numbers: readonly number[],
  frame: number,
): readonly [from: number, to: number] {
  const arrival = arrivalFrame(motion, position);
  const rise = 2 * riseFrames(motion);
  const placeOf = (number: number) => {
    const place = numbers.findIndex((one) => one >= number);
    return place < 0 ? numbers.length : place;
  };
  return frame < placeOf(arrival) ? [0, placeOf(arrival - rise)] : [placeOf(arrival + rise), numbers.length];
}
