import type { Field } from "./field.js";

/** Samples that are looked at. */
const MOST = 40_000;
/** Levels nearer than this part of their range are one, stored as floating point. */
const ALIKE = 1e-9;

/** Standard deviation of the rounding of a picture's samples: the least step between levels that occur, over √12. Of floating point
 *  samples it is next to nothing.
 *  @see W. R. Bennett, Bell System Technical Journal 27 (1948), 446-472, for the variance of 1/12 of a step (from
 *    memory) */
export function roundingOf({ data }: Field): number {
  const every = Math.ceil(data.length / MOST);
  const levels = data.filter((_, at) => at % every === 0).sort();
  const apart = ALIKE * (levels[levels.length - 1] - levels[0]);
  let least = Number.POSITIVE_INFINITY;
  for (let n = 1; n < levels.length; n++) {
    const step = levels[n] - levels[n - 1];
    if (step > apart && step < least) least = step;
  }
  return Number.isFinite(least) ? least / Math.sqrt(12) : 0;
}
