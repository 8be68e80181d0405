import type { RecordingMode } from "./mode-types.js";

/** Rates closer than this are the same. */
const SAME = 0.01;

/** Whether a wider picture of the same height is slower, as the list shows it: on many sensors rows are read one after the
 *  other, whole, and width buys no rate.
 *  @returns null where no height is listed in two widths */
export function widthCostsRate(modes: readonly RecordingMode[]): boolean | null {
  const pairs = modes.flatMap((a) =>
    modes
      .filter((b) => b.rows === a.rows && b.bits === a.bits && b.columns > a.columns)
      .map((b) => b.rateHz / a.rateHz),
  );
  if (pairs.length === 0) return null;
  return pairs.some((ratio) => ratio < 1 - SAME);
}
