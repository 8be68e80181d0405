import type { FrontPosition } from "../types.js";

/** A front stands where it makes less than this part of its mean way. */
const HARDLY = 0.15;
/** For fewer frames than this it may be by chance. */
const LEAST_FRAMES = 4;
/** The way that it does not make is surer than so many standard uncertainties of the two positions. */
const SURE = 6;

/** The longest time in which a front stands on its way.
 *  @param used  positions in order of time
 *  @param slopePixelsPerFrame  its mean speed, of either sign
 *  @returns null where it goes on all the time */
export function standingStill(
  used: readonly FrontPosition[],
  slopePixelsPerFrame: number,
): { readonly from: FrontPosition; readonly to: FrontPosition } | null {
  const timeOf = ({ frame, timeFrames }: FrontPosition) => timeFrames ?? frame;
  const stands = (from: FrontPosition, to: FrontPosition) => {
    const expected = slopePixelsPerFrame * (timeOf(to) - timeOf(from));
    const unsure = Math.hypot(from.standardUncertaintyPixels, to.standardUncertaintyPixels);
    const made = (to.positionPixels - from.positionPixels) / expected;
    return made < HARDLY && Math.abs(expected) * (1 - made) > SURE * unsure;
  };
  let longest = { first: 0, frames: LEAST_FRAMES - 1, last: -1 };
  for (let first = 0; first < used.length; first++)
    for (let last = used.length - 1; last > first; last--) {
      const frames = timeOf(used[last]) - timeOf(used[first]);
      if (frames <= longest.frames) break;
      if (stands(used[first], used[last])) longest = { first, frames, last };
    }
  return longest.last < 0 ? null : { from: used[longest.first], to: used[longest.last] };
}
