/** @throws RangeError on lengths that differ, fewer than 3 points, times that do not increase, values that are not finite */
export function checkSeries(times: readonly number[], positions: readonly number[]): void {
  const count = times.length;
  if (positions.length !== count)
    throw new RangeError(`positions must have the length of times, ${count}, got ${positions.length}`);
  if (count < 3) throw new RangeError(`times must hold at least 3 points, got ${count}`);
  times.forEach((value, i) => {
    if (!Number.isFinite(value)) throw new RangeError(`times[${i}] must be finite, got ${value}`);
    if (i > 0 && !(value > times[i - 1]))
      throw new RangeError(`times[${i}] must be > times[${i - 1}], ${times[i - 1]}, got ${value}`);
    if (!Number.isFinite(positions[i]))
      throw new RangeError(`positions[${i}] must be finite, got ${positions[i]}`);
  });
}

/** One standard uncertainty for each of so many positions; null where none is stated.
 *  @throws RangeError on another number of them, or values that are not finite and > 0 */
export function eachUncertainty(
  stated: number | readonly number[] | undefined,
  count: number,
): readonly number[] | null {
  if (stated === undefined) return null;
  const each = typeof stated === "number" ? new Array<number>(count).fill(stated) : stated;
  if (each.length !== count)
    throw new RangeError(`standardUncertainty must have the length of times, ${count}, got ${each.length}`);
  each.forEach((value, i) => {
    if (!(value > 0 && value < Number.POSITIVE_INFINITY))
      throw new RangeError(`standardUncertainty[${i}] must be finite and > 0, got ${value}`);
  });
  return each;
}
