import { fourDigits, noLess, noMore, partText, timeText } from "./four-digits.js";
import type { PlannedMode, Shortfall } from "./plan-types.js";

/** Where no mode meets the wish: the mode that misses the fewest limits, by the least, and what would have to be relaxed for it.
 *  @param modes  at least one, none of which meets the wish */
export function relaxAdvice(modes: readonly PlannedMode[]): string {
  const nearest = modes.reduce((best, mode) => (missesMore(best, mode) ? mode : best));
  const { columns, rows, rateHz, shortfalls } = nearest;
  const changes = shortfalls.map((shortfall) => changeFor(shortfall, nearest)).join(", and ");
  return `${columns} x ${rows} px at ${fourDigits(rateHz)} frames/s comes nearest: ${changes}`;
}

/** Whether `one` misses more limits than `other`, or as many by more. */
export function missesMore(one: PlannedMode, other: PlannedMode): boolean {
  if (one.shortfalls.length !== other.shortfalls.length)
    return one.shortfalls.length > other.shortfalls.length;
  return missedBy(one) > missedBy(other);
}

/** All factors by which limits are missed, as the logarithm of their product. */
function missedBy({ shortfalls }: PlannedMode): number {
  return shortfalls.reduce((sum, { factor }) => sum + Math.log(factor), 0);
}

/** Figures are rounded to the side on which the limit is met. */
function changeFor(
  { limit, wanted, needed, factor }: Shortfall,
  { stepMetres, eventSeconds }: PlannedMode,
): string {
  const from = fourDigits(wanted);
  switch (limit) {
    case "framesAcross":
      return needed < 3
        ? `follow the front over ${noLess(3 * stepMetres)} m or more, ${noLess(3 / needed)} times the length, for 3 frames`
        : `want ${noMore(needed)} frames across instead of ${from}`;
    case "blurPixels":
      return `allow a blur of ${noLess(needed)} px instead of ${from} px`;
    case "exposureSeconds":
      return `expose for ${timeText(wanted, needed > wanted ? noMore : noLess)} instead of ${timeText(needed)}`;
    case "stopsLost":
      return `allow a loss of ${noLess(needed)} stops instead of ${from}, or give ${noLess(factor)} times the light`;
    case "memory":
      return `have ${timeText(wanted, noLess)} of memory instead of ${needed > 0 ? timeText(needed) : "less than one frame"}, ${noLess(factor)} times as much${reactWithin(needed - eventSeconds)}`;
    case "lengthMetres":
      return `follow the front over ${noMore(wanted)} m instead of ${fourDigits(needed)} m, or show more of it with a scale ${noLess(factor)} times as coarse`;
    case "relativeUncertainty":
      return `accept ${partText(needed, noLess)} for the uncertainty of the speed instead of ${partText(wanted)}`;
  }
}

/** @param seconds  that the memory leaves to the reaction */
function reactWithin(seconds: number): string {
  return seconds > 0 ? `, or react within ${timeText(seconds, noMore)}` : "";
}
