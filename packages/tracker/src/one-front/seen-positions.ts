import type { AlikeChanges, PositionModel } from "../model/front-model.js";
import type { FollowedFront } from "./follow-front.js";

/** A change is clearly seen where it is this many times its own uncertainty. */
const SEEN = 6;
/** The same where levels drift: slopes leave the change of a sharp front three times as unsure, about. */
const SEEN_DRIFTING = 2;
/** A position at which the usual change would be this many times as clear is expected to show it. */
const EXPECTED = 2;
/** Below this part of what is known of changes that are alike, a position tells nothing by itself. */
const LEAST_OWN = 1e-6;

type Seen = Pick<FollowedFront, "models" | "noiseVariance" | "motion">;

/** The models of the positions at which the front's change is clearly seen: by their own samples, where changes are alike,
 *  and in the sense of all. */
export function clearlySeen({ models, noiseVariance, motion: { alike } }: Seen): readonly PositionModel[] {
  return models.filter((model) => {
    const own = ownChange(model, alike);
    if (!own) return false;
    const size = alike ? own.change * Math.sign(alike.change) : Math.abs(own.change);
    return size > (model.drifting ? SEEN_DRIFTING : SEEN) * Math.sqrt(noiseVariance * own.variance);
  });
}

/** Positions at which the front's change is clearly seen, increasing. */
export function seenPositions(front: Seen): readonly number[] {
  return clearlySeen(front).map(({ position }) => position);
}

/** The models of the positions that are expected to show the front: all, but where changes are alike those that would show the
 *  usual one, as the others are not on the front in any frame. */
export function expectedToShow({ models, noiseVariance, motion: { alike } }: Seen): readonly PositionModel[] {
  if (!alike) return models;
  return models.filter((model) => {
    const own = ownChange(model, alike);
    return own && Math.abs(alike.change) > EXPECTED * SEEN * Math.sqrt(noiseVariance * own.variance);
  });
}

/** What the samples of one position tell of its change, without what is known of changes that are alike.
 *  @returns with its variance in units of that of the noise; null where they tell nothing */
export function ownChange(
  { change, inverse: [, , variance] }: PositionModel,
  alike: AlikeChanges | undefined,
): { readonly change: number; readonly variance: number } | null {
  if (!(variance > 0)) return null;
  if (!alike) return { change, variance };
  const told = 1 / variance - alike.precision;
  if (!(told > LEAST_OWN * alike.precision)) return null;
  return { change: (change / variance - alike.precision * alike.change) / told, variance: 1 / told };
}
