import { median } from "@frontpace/fit";
import type { StripedStreak } from "../streak/read-streak.js";
import { type Gains, gainsAlong } from "./even-gains.js";
import { restlessPlaces } from "./restless-places.js";
import { smoothedSquares } from "./smoothed-squares.js";
import { type BlendPattern, ofEveryPattern, sourceShares } from "./source-shares.js";

/** What changes in a frame must vary from frame to frame by this much of its mean, root mean square, and a conversion
 *  explain this part of that variance. */
const LEAST_VARIATION = 0.15;
const EXPLAINED = 0.75;
/** A frame shows the front where the frames about it change by so many times what most frames do by noise. */
const SHOWS = 6;
/** And it shows it clearly where they change by this part of what they do about any frame: a compression leaves the quietest
 *  frames with so little noise that most others stand out of them. */
const CLEARLY = 1 / 8;
/** Of what the whole path gains in a frame, which in a clip of blends is the same in every one, a pattern explains this part of the variance, and so
 *  does an even run over places of more and less contrast. */
const OF_CONTRAST = 0.5;
/** Fewer frames, or fewer periods of the pattern, may look so by chance. */
const LEAST_FRAMES = 14;
const LEAST_PERIODS = 4;

/** Frames that are weighted means of two frames of a source at another rate, told by how much changes from frame
 *  to frame, of the front above all: in a blend it stands at two places, and it jumps, waits and jumps in a pattern that the two
 *  rates rule. That outlasts a compression that leaves little of the noise. A front that crosses stripes of more and less contrast
 *  does the same in every frame that was taken; but in a blend the path as a whole is as bright as between the two frames of the
 *  source, and gains evenly. Frames that are missing at regular intervals, and the others numbered on, are told as
 *  blends are: what runs does not run evenly in them.
 *  @returns the conversion that explains it, or null */
export function blendedFront({
  data,
  shape: [frames, positions],
  frameNumbers,
}: Pick<StripedStreak, "data" | "shape" | "frameNumbers">): BlendPattern | null {
  if (frames < LEAST_FRAMES || frameNumbers.some((number, i) => number - frameNumbers[0] !== i)) return null;
  const light = lightOf(data, frames, positions);
  const restless = restlessPlaces(data, [frames, positions]) ?? new Uint8Array(positions);
  const changes = secondChanges(data, light, restless, frames);
  const gains = gainsAlong(data, light, restless);
  const quiet = quietest(changes);
  let best: BlendPattern | null = null;
  let most = EXPLAINED;
  for (const { source, every, placed } of frontPatterns()) {
    const all = aboutTheirMean(changes, every);
    const largest = Math.max(...all.map(({ mean }) => mean));
    const choices = [
      all,
      all.filter(({ mean }) => mean > SHOWS * quiet),
      all.filter(({ before, after }) => Math.min(before, after) > CLEARLY * largest),
    ];
    for (const seen of choices) {
      if (seen.length < Math.max(LEAST_FRAMES, LEAST_PERIODS * every)) continue;
      const byPhase = aboutMeanByPhase(seen, every);
      if (!(byPhase.variation > LEAST_VARIATION) || isOfContrast(gains, seen, every)) continue;
      for (const pattern of placed) {
        const explained = explainedBy(pattern, byPhase);
        if (explained < most) continue;
        most = explained;
        best = { source, every };
      }
    }
  }
  return best;
}

/** What was seen, by the place in a pattern. */
interface SeenByPhase {
  /** Standard deviation over the mean. */
  readonly variation: number;
  /** Σ (seen − mean)² of all. */
  readonly about: number;
  /** Of each place Σ (seen − mean) and the number of frames, shape (every,). */
  readonly sum: Float64Array;
  readonly count: Float64Array;
}

function aboutMeanByPhase(
  seen: readonly { readonly frame: number; readonly relative: number }[],
  every: number,
): SeenByPhase {
  const mean = seen.reduce((sum, { relative }) => sum + relative, 0) / seen.length;
  const sum = new Float64Array(every);
  const count = new Float64Array(every);
  let about = 0;
  for (const { frame, relative } of seen) {
    sum[frame % every] += relative - mean;
    count[frame % every]++;
    about += (relative - mean) ** 2;
  }
  return { variation: Math.sqrt(about / seen.length) / mean, about, sum, count };
}

/** The path as a whole gains unevenly, in a pattern of so many frames, and as what runs evenly does with the contrast that each place has. */
function isOfContrast(gains: Gains, seen: readonly { readonly frame: number }[], every: number): boolean {
  const frames = new Set(seen.map(({ frame }) => frame));
  const relative = aboutTheirMean(gains.seen, every).filter(({ frame }) => frames.has(frame));
  const { variation, about, sum, count } = aboutMeanByPhase(relative, every);
  const explained = sum.reduce(
    (of, value, phase) => (count[phase] > 0 ? of + value ** 2 / count[phase] : of),
    0,
  );
  return variation > LEAST_VARIATION && explained > OF_CONTRAST * about && isEven(gains, seen);
}

/** Whether what an even run gains explains what is seen. */
function isEven({ seen, even }: Gains, shown: readonly { readonly frame: number }[]): boolean {
  const [first, last] = [shown[0].frame, shown[shown.length - 1].frame];
  const part = seen.subarray(first + 1, last + 1);
  const expected = even(first, last);
  const mean = part.reduce((sum, value) => sum + value, 0) / part.length;
  const about = part.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const left = part.reduce((sum, value, k) => sum + (value - expected[k]) ** 2, 0);
  return left < (1 - OF_CONTRAST) * about;
}

/** Part of the variance of what was seen that a pattern explains, besides a constant that noise and compression add; 0 where
 *  it runs against it. */
function explainedBy(pattern: readonly number[], { about, sum, count }: SeenByPhase): number {
  let total = 0;
  let frames = 0;
  for (let phase = 0; phase < pattern.length; phase++) {
    total += count[phase] * pattern[phase];
    frames += count[phase];
  }
  const mean = total / frames;
  let squares = 0;
  let product = 0;
  for (let phase = 0; phase < pattern.length; phase++) {
    const apart = pattern[phase] - mean;
    squares += count[phase] * apart * apart;
    product += apart * sum[phase];
  }
  return squares > 0 && product > 0 ? product ** 2 / (squares * about) : 0;
}

/** Sum of squares of the second difference in time at each frame, all in the light of the first, without restless places; shape
 *  (frames,), 0 at both ends. */
function secondChanges(
  data: Float64Array,
  light: Float64Array,
  restless: Uint8Array,
  frames: number,
): Float64Array {
  const positions = restless.length;
  const sums = new Float64Array(frames);
  for (let i = 1; i + 1 < frames; i++) {
    const [before, itself, after] = [i - 1, i, i + 1].map((frame) => 1 / light[frame]);
    sums[i] = smoothedSquares(positions, (p) => {
      if (restless[p]) return 0;
      const at = i * positions + p;
      return data[at - positions] * before - 2 * data[at] * itself + data[at + positions] * after;
    });
  }
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

/** What the quietest tenth of the inner frames changes by at most. */
function quietest(changes: Float64Array): number {
  const inner = changes.slice(1, changes.length - 1).sort();
  return inner[Math.floor(inner.length / 10)];
}

/** Means of the changes in a period of a pattern before each frame, in one after it and in both, and its own over that in
 *  both. */
function aboutTheirMean(changes: Float64Array, every: number) {
  const found: { frame: number; before: number; after: number; mean: number; relative: number }[] = [];
  for (let frame = 1 + every; frame + every < changes.length - 1; frame++) {
    const before = meanOfPeriod(changes, frame - every, every);
    const after = meanOfPeriod(changes, frame, every);
    const mean = (before + after) / 2;
    found.push({ frame, before, after, mean, relative: mean > 0 ? changes[frame] / mean : 1 });
  }
  return found;
}

/** Of the outermost two, which have the same place in the pattern, a half each. */
function meanOfPeriod(changes: Float64Array, from: number, every: number): number {
  let sum = -(changes[from] + changes[from + every]) / 2;
  for (let k = from; k <= from + every; k++) sum += changes[k];
  return sum / every;
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

const frontPatterns = ofEveryPattern(frontInBlends);
