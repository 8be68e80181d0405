import type { RowTimeModel } from "./mode-types.js";

/** Fits rate = 1 / (rows · row time + overhead): the interval between frames is a straight line in the number of rows read. Least
 *  squares on the intervals, each weighted by its own length, so that residuals count relatively.
 *  @param rows  px, shape (N,), N >= 2, increasing
 *  @param rateHz  frames per second, shape (N,)
 *  @throws RangeError where fewer than two different heights are given */
export function fitRowTime(rows: readonly number[], rateHz: readonly number[]): RowTimeModel {
  if (
    rows.length < 2 ||
    rows.length !== rateHz.length ||
    rows.some((height, k) => k > 0 && height <= rows[k - 1])
  )
    throw new RangeError(
      `rows must be two or more increasing heights with a rate each, got ${rows.join(", ")}`,
    );
  const weights = rateHz.map((rate) => rate ** 2);
  const total = weights.reduce((sum, w) => sum + w, 0);
  const meanRows = weights.reduce((sum, w, k) => sum + w * rows[k], 0) / total;
  const meanInterval = weights.reduce((sum, w, k) => sum + w / rateHz[k], 0) / total;
  let squares = 0;
  let products = 0;
  for (const [k, w] of weights.entries()) {
    squares += w * (rows[k] - meanRows) ** 2;
    products += w * (rows[k] - meanRows) * (1 / rateHz[k] - meanInterval);
  }
  const rowTimeSeconds = products / squares;
  const overheadSeconds = meanInterval - rowTimeSeconds * meanRows;
  const departures = rows.map((height, k) =>
    Math.abs(1 / (height * rowTimeSeconds + overheadSeconds) / rateHz[k] - 1),
  );
  return {
    rowTimeSeconds,
    overheadSeconds,
    fittedRows: [...rows],
    relativeResidual: rows.length > 2 ? Math.max(...departures) : null,
  };
}
