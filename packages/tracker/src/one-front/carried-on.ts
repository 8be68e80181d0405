/** Departures of a front from its line in all frames: in those that do not show it, it ran on from the nearest one that
 *  does, as it was taken to before. On the line itself, one that is far from it would be in the picture there.
 *  @param frames  indices of those that show it, increasing
 *  @param departure  of these, px
 *  @param before  departures taken before, px, shape (all frames,) */
export function carriedOn(
  frames: readonly number[],
  departure: readonly number[],
  before: Float64Array,
): Float64Array<ArrayBuffer> {
  let k = 0;
  return Float64Array.from(before, (value, i) => {
    while (k + 1 < frames.length && Math.abs(frames[k + 1] - i) <= Math.abs(frames[k] - i)) k++;
    return departure[k] + value - before[frames[k]];
  });
}
