import { bandedZeros, type Information } from "@frontpace/fit";

/** What runs of neighbouring frames say of the front's departure from the line, where single frames are too many
 *  and too closely tied to be treated one by one (a slow front, seen for long). */
export interface GroupedFrames {
  /** Mean frame number, and mean position that the score is about, of each run. */
  readonly numbers: readonly number[];
  readonly positionPixels: readonly number[];
  readonly score: Float64Array;
  readonly information: Information;
  /** Run to which each frame belongs. */
  readonly groupOf: (frame: number) => number;
}

/** Frames in a run, as few as the work allows; one where all is well.
 *  @param mostWork  products that one factorisation of the information may take */
export function runLength({ banded }: Information, mostWork: number): number {
  const work = banded.size * (banded.bandwidth + 1) ** 2;
  return Math.max(1, Math.ceil((work / mostWork) ** (1 / 3)));
}

/** Sums score and information over runs of `run` frames. */
export function groupFrames(
  numbers: readonly number[],
  positionPixels: readonly number[],
  score: Float64Array,
  { banded, lost }: Information,
  run: number,
): GroupedFrames {
  const groupOf = (frame: number) => Math.floor(frame / run);
  const size = groupOf(banded.size - 1) + 1;
  const sumOver = (values: ArrayLike<number>) => {
    const sums = new Float64Array(size);
    for (let i = 0; i < values.length; i++) sums[groupOf(i)] += values[i];
    return sums;
  };
  const grouped = bandedZeros(size, groupOf(banded.bandwidth + run - 1));
  const from = banded.bandwidth + 1;
  const to = grouped.bandwidth + 1;
  for (let i = 0; i < banded.size; i++)
    for (let k = 0; k <= Math.min(banded.bandwidth, i); k++) {
      const distance = groupOf(i) - groupOf(i - k);
      // Off the diagonal an element stands for itself and its mirror image; inside one run both count.
      const weight = k > 0 && distance === 0 ? 2 : 1;
      grouped.data[groupOf(i) * to + distance] += weight * banded.data[i * from + k];
    }
  const counts = sumOver(numbers.map(() => 1));
  const meanOver = (values: readonly number[]) => Array.from(sumOver(values), (sum, k) => sum / counts[k]);
  return {
    numbers: meanOver(numbers),
    positionPixels: meanOver(positionPixels),
    score: sumOver(score),
    information: { banded: grouped, lost: lost && sumOver(lost) },
    groupOf,
  };
}
