import { median } from "@frontpace/fit";
import type { StripedStreak } from "../streak/read-streak.js";
import type { DifferencesInTime } from "./differences-in-time.js";

/** A copy differs from the frame before, anywhere on the path, by less than this share of what noise makes of other
 *  pairs, root mean square; and no other pair differs so little. */
const COPY = 0.2;
/** More copies than this in a row, and nothing happens: a black screen before the lamp, a picture without noise. */
const LONGEST_RUN = 6;
/** Other pairs must differ by pixels that change by a whole step, this many in a frame, or chance makes copies. */
const LEAST_CHANGES = 30;
/** Most of a take that copies may be, in pairs of frames. */
const MOST_COPIES = 0.85;

/** Frames that are copies of the one before.
 *  @param first  differences of neighbouring frames
 *  @returns indices of the copies, increasing, none where every pair of frames differs by its noise; null where noise is
 *    too low, or frames too few, to tell */
export function copiedFrames(
  streak: Pick<StripedStreak, "strips" | "stripCounts" | "shape" | "roundingNoise" | "width">,
  { typical, largest }: DifferencesInTime,
): readonly number[] | null {
  const pairs = Array.from(typical.keys()).filter((i) => !Number.isNaN(typical[i]));
  if (pairs.length < 3) return null;
  const most = quantile(
    pairs.map((i) => typical[i]),
    0.9,
  );
  const others = pairs.filter((i) => largest[i] >= COPY ** 2 * most).map((i) => typical[i]);
  if (others.length < 2 || others.length < (1 - MOST_COPIES) * pairs.length) return null;
  const usual = median(others);
  const least = quantile(others, 0.1);
  if (!isMoreThanRounding(least, streak)) return null;
  const isLow = (i: number) => largest[i] < COPY ** 2 * least;
  const runs = runsOf(pairs, isLow);
  const copies = runs.filter((run) => run.length <= LONGEST_RUN && !isBlank(streak, run[0])).flat();
  // Frames that differ a little, and stay so for long, are the take: what differs more is something that moves in it.
  const isExact = copies.every((i) => largest[i] === 0);
  if (!isExact && (copies.length < runs.flat().length || least < COPY * usual)) return [];
  return copies;
}

/** Whether all samples of a frame are the same: black, or overexposed. */
function isBlank({ strips, shape }: Pick<StripedStreak, "strips" | "shape">, frame: number): boolean {
  const line = (strip: Float64Array) => strip.subarray(frame * shape[1], (frame + 1) * shape[1]);
  return strips.every((strip) => line(strip).every((value, _, all) => value === all[0]));
}

/** Whether differences of this mean square tell that frames are not copies. */
function isMoreThanRounding(
  meanSquare: number,
  { stripCounts, roundingNoise, width }: Pick<StripedStreak, "stripCounts" | "roundingNoise" | "width">,
): boolean {
  const roundingVariance = roundingNoise ** 2 * width;
  const pixels = stripCounts.reduce((sum, counts) => sum + counts.reduce((a, b) => a + b, 0), 0);
  // A pixel that changes by a step of 1 DN, where rounding has the variance 1/12 DN².
  return meanSquare > 0 && (meanSquare * pixels) / (12 * roundingVariance) > LEAST_CHANGES;
}

function runsOf(indices: readonly number[], isIn: (index: number) => boolean): number[][] {
  const runs: number[][] = [];
  for (const i of indices) {
    if (!isIn(i)) continue;
    const last = runs[runs.length - 1];
    if (last && last[last.length - 1] === i - 1) last.push(i);
    else runs.push([i]);
  }
  return runs;
}

function quantile(values: readonly number[], share: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.round(share * (sorted.length - 1))];
}
