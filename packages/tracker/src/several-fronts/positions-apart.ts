import type { PositionModel } from "../model/front-model.js";
import { arrivalFrame } from "../model/passage.js";
import type { FollowedFront } from "../one-front/follow-front.js";

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
