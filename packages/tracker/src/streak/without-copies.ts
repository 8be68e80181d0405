import type { StripedStreak } from "./read-streak.js";

/** A streak without the copies in it.
 *  @param copies  indices of frames to leave out, increasing
 *  @param extra  those of them that were stored in excess: every later frame was taken an interval earlier than its
 *    number says */
export function withoutCopies(
  streak: StripedStreak,
  copies: readonly number[],
  extra: readonly number[],
): StripedStreak {
  const { data, strips, shape, frameNumbers, storedNumbers } = streak;
  const [frames, positions] = shape;
  const kept = Array.from({ length: frames }, (_, i) => i).filter((i) => !copies.includes(i));
  const linesOf = (lines: Float64Array) => {
    const left = new Float64Array(kept.length * positions);
    kept.forEach((i, k) => {
      left.set(lines.subarray(i * positions, (i + 1) * positions), k * positions);
    });
    return left;
  };
  const step = frameNumbers
    .slice(1)
    .reduce((least, number, k) => Math.min(least, number - frameNumbers[k]), Number.POSITIVE_INFINITY);
  return {
    ...streak,
    data: linesOf(data),
    strips: strips.map(linesOf),
    shape: [kept.length, positions],
    frameNumbers: kept.map((i) => frameNumbers[i] - step * extra.filter((copy) => copy < i).length),
    storedNumbers: kept.map((i) => storedNumbers[i]),
  };
}
