import { median } from "@frontpace/fit";
import { CONVERTED_RATES } from "./converted-rates.js";
import type { StripedStreak } from "./read-streak.js";
import { type BlendPattern, PHASE_STEP, sourceShares } from "./source-shares.js";

/** What changes in a frame must vary from frame to frame by this much of its mean, root mean square, and a conversion
 *  explain this part of that variance. */
const LEAST_VARIATION = 0.15;
const EXPLAINED = 0.75;
/** A frame shows the front where the frames about it change by so many times what most frames do by noise. */
const SHOWS = 6;
/** Fewer frames, or fewer periods of the pattern, may look so by chance. */
const LEAST_FRAMES = 14;
const LEAST_PERIODS = 4;

/** Frames that are weighted means of two frames of a source at another rate, told by how much changes from frame
 *  to frame, of the front above all: in a blend it stands at two places, and it jumps, waits and jumps in a pattern that the two
 *  rates rule. That outlasts a compression that leaves little of the noise.
 *  @returns the conversion that explains it, or null */
export function blendedFront({
  data,
  shape: [frames, positions],
  frameNumbers,
}: Pick<StripedStreak, "data" | "shape" | "frameNumbers">): BlendPattern | null {
  if (frames < LEAST_FRAMES || frameNumbers.some((number, i) => number - frameNumbers[0] !== i)) return null;
  const changes = secondChanges(data, frames, positions);
  let best: BlendPattern | null = null;
  let most = EXPLAINED;
  for (const [source, every] of CONVERTED_RATES) {
    const all = aboutTheirMean(changes, every);
    for (const seen of [all, all.filter(({ showsFront }) => showsFront)]) {
      if (seen.length < Math.max(LEAST_FRAMES, LEAST_PERIODS * every)) continue;
      const relative = seen.map((one) => one.relative);
      if (!(variationOf(relative) > LEAST_VARIATION)) continue;
      const parts = Math.ceil(1 / (every * PHASE_STEP));
      for (let part = 0; part < parts * every; part++) {
        const pattern = frontInBlends(source, every, part / parts);
        const explained = explainedBy(
          seen.map(({ frame }) => pattern[frame % every]),
          relative,
        );
        if (explained < most) continue;
        most = explained;
        best = { source, every };
      }
    }
  }
  return best;
}

/** Standard deviation over the mean. */
function variationOf(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length) / mean;
}

/** Part of the variance of what was seen that a pattern explains, besides a constant that noise and compression add; 0 where
 *  it runs against it. */
function explainedBy(pattern: readonly number[], seen: readonly number[]): number {
  const meanPattern = pattern.reduce((sum, value) => sum + value, 0) / pattern.length;
  const meanSeen = seen.reduce((sum, value) => sum + value, 0) / seen.length;
  let [squares, product, about] = [0, 0, 0];
  pattern.forEach((value, n) => {
    squares += (value - meanPattern) ** 2;
    product += (value - meanPattern) * (seen[n] - meanSeen);
    about += (seen[n] - meanSeen) ** 2;
  });
  return squares > 0 && product > 0 ? product ** 2 / (squares * about) : 0;
}

/** Sum of squares of the second difference in time at each frame, all in the light of the first; shape (frames,), 0 at both
 *  ends. */
function secondChanges(data: Float64Array, frames: number, positions: number): Float64Array {
  const light = lightOf(data, frames, positions);
  const sums = new Float64Array(frames);
  for (let i = 1; i + 1 < frames; i++)
    for (let p = 0, at = i * positions; p < positions; p++, at++)
      sums[i] +=
        (data[at - positions] / light[i - 1] -
          (2 * data[at]) / light[i] +
          data[at + positions] / light[i + 1]) **
        2;
  return sums;
}

/** Light of each frame over that of the first, from frame to frame the median over the positions; shape (frames,). */
function lightOf(data: Float64Array, frames: number, positions: number): Float64Array {
  const light = new Float64Array(frames).fill(1);
  const shares = new Float64Array(positions);
  for (let i = 1; i < frames; i++) {
    let count = 0;
    for (let p = 0, at = i * positions; p < positions; p++, at++)
      if (data[at] > 0 && data[at - positions] > 0) shares[count++] = data[at] / data[at - positions];
    light[i] = light[i - 1] * (count > 0 ? median(shares.subarray(0, count)) : 1);
  }
  return light;
}

/** Change of each frame over the mean of those about it in two periods of a pattern. */
function aboutTheirMean(changes: Float64Array, every: number) {
  const inner = changes.subarray(1, changes.length - 1);
  const quiet = Float64Array.from(inner).sort()[Math.floor(inner.length / 10)];
  return Array.from(inner.keys()).flatMap((k) => {
    const about = inner.subarray(Math.max(0, k - every), k + every + 1);
    if (about.length < 2 * every + 1) return [];
    // Of the outermost two, which have the same place in the pattern, a half each.
    const sum = about.reduce((a, b) => a + b, 0) - (about[0] + about[2 * every]) / 2;
    const mean = sum / (2 * every);
    return [{ frame: k + 1, relative: mean > 0 ? inner[k] / mean : 1, showsFront: mean > SHOWS * quiet }];
  });
}

/** What a front that runs by more than its own width in a frame of the source changes in second differences of the clip,
 *  over the mean; shape (every,). */
function frontInBlends(source: number, every: number, phase: number): number[] {
  const squares = sourceShares("second", source, every, phase).map((shares) => {
    // Shares of frames are those of the steps between them, summed up.
    let step = 0;
    return shares.reduce((sum, share) => {
      step += share;
      return sum + step * step;
    }, 0);
  });
  const mean = squares.reduce((sum, value) => sum + value, 0) / every;
  return squares.map((value) => value / mean);
}
