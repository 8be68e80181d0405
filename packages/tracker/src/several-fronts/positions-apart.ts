import type { PositionModel } from "../model/front-model.js";
import { arrivalFrame, riseFrames } from "../model/passage.js";
import type { Found } from "../one-front/follow-divided.js";
import type { FollowedFront } from "../one-front/follow-front.js";
import { clearlySeen } from "../one-front/seen-positions.js";

/** Changes that are no further apart than this are one, frames. */
export const LEAST_FRAMES_APART = 1;

/** Those of some positions that two fronts pass at times that differ by more than so many frames. */
export function positionsApart(
  positions: readonly PositionModel[],
  one: FollowedFront,
  other: FollowedFront,
  frames: number,
): readonly PositionModel[] {
  return positions.filter(
    ({ position }) =>
      Math.abs(arrivalFrame(one.motion, position) - arrivalFrame(other.motion, position)) > frames,
  );
}

/** Whether a reading passes most of its positions while another of the same shape does. */
export function isSamePassage({ front }: Found, { front: other }: Found): boolean {
  if (!front || front.motion.shape !== other?.motion.shape || front.motion.sense !== other.motion.sense)
    return false;
  const support = clearlySeen(front);
  const rises = Math.max(LEAST_FRAMES_APART, riseFrames(front.motion) + riseFrames(other.motion));
  return positionsApart(support, front, other, rises).length < support.length / 2;
}
