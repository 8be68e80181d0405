import type { PositionModel } from "../model/front-model.js";
import type { FollowedFront } from "./follow-front.js";

/** A change is clearly seen where it is this many times its own uncertainty. */
const SEEN = 6;
/** The same where levels drift: slopes leave the change of a sharp front three times as unsure, about. */
const SEEN_DRIFTING = 2;

/** The models of the positions at which the front's change is clearly seen. */
export function clearlySeen({
  models,
  noiseVariance,
}: Pick<FollowedFront, "models" | "noiseVariance">): readonly PositionModel[] {
  return models.filter(
    ({ change, inverse, drifting }) =>
      inverse[2] > 0 &&
      Math.abs(change) > (drifting ? SEEN_DRIFTING : SEEN) * Math.sqrt(noiseVariance * inverse[2]),
  );
}

/** Positions at which the front's change is clearly seen, increasing. */
export function seenPositions(front: Pick<FollowedFront, "models" | "noiseVariance">): readonly number[] {
  return clearlySeen(front).map(({ position }) => position);
}
