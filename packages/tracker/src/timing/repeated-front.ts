import type { StripedStreak } from "../streak/read-streak.js";
import { type CopyPattern, regularPattern } from "./regular-pattern.js";
import { restlessPlaces } from "./restless-places.js";
import { smoothedSquares } from "./smoothed-squares.js";

/** Pairs of frames on either side over which the change of one is held against the mean. */
const BESIDE = 6;
/** A pair shows the front clearly where the mean about it is this part of the largest. */
const CLEARLY = 1 / 8;
/** In a copy the front stands: it changes by this part of the mean at most. */
const STANDS = 0.05;
/** Where the path changes by less than this part of what the places that change most do, no front is seen. */
const UNSEEN = Math.sqrt(STANDS);

/** Frames that repeat the one before, told by the front, which stands in them and jumps in the others: a compression leaves copies
 *  that differ as other frames do. A front that crosses places where it has no contrast stands there, too, and is no copy.
 *  @returns the conversion that explains which frames are copies, or null */
export function repeatedFront({
  data,
  shape: [frames, positions],
  storedNumbers,
}: Pick<StripedStreak, "data" | "shape" | "storedNumbers">): CopyPattern | null {
  // Along the front, in place of its way, every place changes while it is seen.
  if (restlessPlaces(data, [frames, positions]) === null) return null;
  const changes = Array.from({ length: Math.max(0, frames - 1) }, (_, i) =>
    smoothedSquares(positions, (p) => data[(i + 1) * positions + p] - data[i * positions + p]),
  );
  const means = changes.map((_, i) => {
    const about = changes.slice(Math.max(0, i - BESIDE), i + BESIDE + 1);
    return about.reduce((sum, value) => sum + value, 0) / about.length;
  });
  const largest = means.reduce((most, value) => Math.max(most, value), 0);
  const runs = (i: number) => means[i] > CLEARLY * largest && changes[i] > means[i] / 2;
  const moving = Array.from(changes.keys()).filter(runs);
  if (moving.length === 0) return null;
  const first = moving[0];
  const last = moving[moving.length - 1];
  const copies: number[] = [];
  for (let i = first; i <= last; i++) if (changes[i] < STANDS * means[i]) copies.push(i + 1 - first);
  if (copies.length < 2 * (last - first) * unseenShare(data, [first, last + 1], positions)) return null;
  return regularPattern(storedNumbers.slice(first, last + 2), copies);
}

/** Share of the path on which a front that runs there in these frames is not seen. */
function unseenShare(data: Float64Array, [from, to]: readonly [number, number], positions: number): number {
  const largest = new Float64Array(positions);
  for (let i = from; i < to; i++)
    for (let p = 0, at = i * positions; p < positions; p++, at++)
      largest[p] = Math.max(largest[p], Math.abs(data[at + positions] - data[at]));
  const typical = largest.toSorted()[Math.floor(0.9 * positions)];
  const isSeen = (change: number) => change > UNSEEN * typical;
  const way = largest.subarray(largest.findIndex(isSeen), largest.findLastIndex(isSeen) + 1);
  return way.filter((change) => !isSeen(change)).length / way.length;
}
