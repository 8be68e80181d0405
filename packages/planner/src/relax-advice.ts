import { fourDigits } from "./four-digits.js";
import type { PlannedMode, Shortfall } from "./types.js";

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

function changeFor({ limit, wanted, needed, factor }: Shortfall, { stepMetres }: PlannedMode): string {
  const from = fourDigits(wanted);
  const to = fourDigits(needed);
  switch (limit) {
    case "framesAcross":
      return needed < 3
        ? `follow the front over ${fourDigits(3 * stepMetres)} m or more, ${fourDigits(3 / needed)} times the length, for 3 frames`
        : `want ${to} frames across instead of ${from}`;
    case "blurPixels":
      return `allow a blur of ${to} px instead of ${from} px`;
    case "exposureSeconds":
      return `expose for ${from} s instead of ${to} s`;
    case "stopsLost":
      return `allow a loss of ${to} stops instead of ${from}, or give ${fourDigits(factor)} times the light`;
    case "memory":
      return `have ${from} s of memory instead of ${to} s, or react faster`;
    case "lengthMetres":
      return `follow the front over ${from} m instead of ${to} m, or show more of it with a scale ${fourDigits(factor)} times as coarse`;
    case "relativeUncertainty":
      return `accept ${to} (relative) for the uncertainty of the speed instead of ${from}`;
  }
}
