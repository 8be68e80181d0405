import { meanOfStrips } from "../streak/mean-of-strips.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** Of fewer strips each is too much of the width to be left out. */
export const FEWEST_STRIPS = 4;
/** Levels of fewer frames do not tell what else changes beside the front. */
export const FEWEST_FRAMES = 20;

/** A streak like one that was read so wide only as the strips that stay are together.
 *  @param leftOut  places of the others in the streak's strips */
export function withoutStrips(streak: StripedStreak, leftOut: readonly number[]): StripedStreak {
  const stays = <T>(ofStrips: readonly T[]) => ofStrips.filter((_, k) => !leftOut.includes(k));
  const strips = stays(streak.strips);
  const stripCounts = stays(streak.stripCounts);
  const share = strips.length / streak.strips.length;
  return {
    ...streak,
    data: meanOfStrips(strips, stripCounts),
    strips,
    stripCounts,
    stripOffsetsPixels: stays(streak.stripOffsetsPixels),
    width: streak.width * share,
    effectiveRows: streak.effectiveRows === null ? null : streak.effectiveRows * share,
    roundingNoise: streak.roundingNoise / Math.sqrt(share),
  };
}
