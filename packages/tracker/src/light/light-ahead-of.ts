import type { Found } from "../one-front/follow-divided.js";
import { shearStrips } from "../one-front/shear-strips.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { lightAhead } from "./light-ahead.js";

/** What the part ahead of a front that was found says of a light that is said to vary: see `lightAhead`. */
export function lightAheadOf(
  streak: StripedStreak,
  found: Found,
  said: Float64Array,
): ReturnType<typeof lightAhead> {
  if (!found.front) return null;
  const { data, shape } = fieldOf(streak, found);
  return lightAhead(data, shape, found.look.noise, found.front, found.kept, said);
}

/** Brightness of all frames, undivided, at the positions at which the models of what was found count. */
export function fieldOf(
  streak: StripedStreak,
  { tangent }: Pick<Found, "tangent">,
): { readonly data: Float64Array; readonly shape: readonly [frames: number, positions: number] } {
  const { data, positions } =
    tangent === 0
      ? { data: streak.data, positions: streak.shape[1] }
      : shearStrips(streak.strips, streak, tangent).field;
  return { data, shape: [streak.frameNumbers.length, positions] };
}
