import { median } from "./median.js";
import { FEWEST_BESIDE, windowDesigns } from "./window-design.js";

/** A change must stand out of what a value does elsewhere by so many noise levels: with about 10^7 questions to a series
 *  normal noise reaches 6, and its level is known to some 5 %. */
export const THRESHOLD = 7;

/** A change of one value of the descriptors, by samples. */
export interface Change {
  /** Last sample before, first and last within (where there is none within: first after and last before), first
   *  after. */
  readonly before: number;
  readonly firstWithin: number;
  readonly lastWithin: number;
  readonly after: number;
  /** In noise levels. */
  readonly size: number;
  /** Which value of the descriptors. */
  readonly value: number;
}

/** Changes of any value in a series of descriptors that are quicker than those the same value shows everywhere: slow drift
 *  is a line on either side, flicker is as large elsewhere.
 *  @param times  of the samples, increasing, about one apart
 *  @param values  descriptors in steady light
 *  @param noise  standard deviation of every value of one sample */
export function findChanges(
  times: Float64Array,
  values: readonly Float64Array[],
  noise: Float64Array,
): Change[] {
  const count = values.length;
  if (count < 2 * FEWEST_BESIDE) return [];
  const designs = windowDesigns(times);
  const sums = new Float64Array(count + 1);
  const products = new Float64Array(count + 1);
  const sizes = designs.map(({ places }) => new Float64Array(places.length));
  const changes: Change[] = [];
  for (let k = 0; k < noise.length; k++) {
    const origin = values[count >> 1][k];
    for (let j = 0; j < count; j++) {
      const x = (values[j][k] - origin) / noise[k];
      sums[j + 1] = sums[j] + x;
      products[j + 1] = products[j] + x * times[j];
    }
    const seen: Seen[] = [];
    let difference = 0;
    const usualDifference = () => {
      difference ||= usual(sums, count);
      return difference;
    };
    for (let d = 0; d < designs.length; d++) {
      const { gap, places } = designs[d];
      const size = sizes[d];
      let greatest = 0;
      for (let p = 0; p < places.length; p++) {
        const { i, b0, a1, before, after, inGap } = places[p];
        const z = Math.abs(
          before[0] * (sums[i] - sums[b0]) +
            before[1] * (products[i] - products[b0]) +
            after[0] * (sums[a1] - sums[i + gap]) +
            after[1] * (products[a1] - products[i + gap]) +
            inGap * (sums[i + gap] - sums[i]),
        );
        size[p] = z;
        if (z > greatest) greatest = z;
      }
      if (greatest <= THRESHOLD) continue;
      // A value that wanders does so all along: it must stand out of its own wander.
      const wander = Math.max(1, 1.4826 * median(size));
      for (let p = 0; p < places.length; p++) {
        const { i, b0, a1, spread } = places[p];
        const z = size[p] / wander;
        if (z <= THRESHOLD) continue;
        if (spread && size[p] * spread < THRESHOLD * usualDifference()) continue;
        seen.push({ i, gap, b0, a1, size: z });
      }
    }
    pick(seen, k, changes);
  }
  return changes;
}

/** Samples apart at which it is seen how much a value varies at any time. */
const LAG = 8;

/** Usual difference of two samples some way apart, as the standard deviation of a normal one. */
function usual(sums: Float64Array, count: number): number {
  const lag = Math.min(LAG, count >> 1);
  const differences = new Float64Array(count - lag);
  for (let j = 0; j < differences.length; j++)
    differences[j] = Math.abs(sums[j + lag + 1] - sums[j + lag] - sums[j + 1] + sums[j]);
  return 1.4826 * median(differences);
}

interface Seen {
  readonly i: number;
  readonly gap: number;
  readonly b0: number;
  readonly a1: number;
  readonly size: number;
}

/** The greatest change, then the greatest of those whose samples do not hold it, and so on. */
function pick(seen: Seen[], value: number, changes: Change[]): void {
  seen.sort((a, b) => b.size - a.size);
  const picked: Seen[] = [];
  for (const { i, gap, b0, a1, size } of seen) {
    if (picked.some((other) => b0 < other.i + other.gap + 1 && a1 > other.i - 1)) continue;
    picked.push({ i, gap, b0, a1, size });
    const within = gap ? [i, i + gap - 1] : [i, i - 1];
    changes.push({
      before: i - 1,
      firstWithin: within[0],
      lastWithin: within[1],
      after: i + gap,
      size,
      value,
    });
  }
}
