import { meanOfStrips } from "./mean-of-strips.js";
import type { StripedStreak } from "./read-streak.js";

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
