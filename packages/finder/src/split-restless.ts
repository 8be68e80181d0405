import type { Change } from "./find-changes.js";
import { findLasting, type LastingChange } from "./find-lasting.js";
import { median } from "./median.js";

/** Where changes cover more than this part of the samples something moves much of the time, such as dust in view. */
const RESTLESS_PART = 1 / 5;
/** Where nothing stands out, that is no slow change but something else if there is a change so many times. */
const RESTLESS_TIMES = 10;
/** In fewer samples an event covers as much by itself. */
const FEWEST_SAMPLES = 450;

/** A change stands out of the others where it is so many times as large as their median. */
const OUTSTANDING = 4;
/** And lies so many samples apart from what lasts. */
const NEAR = 8;

/** Lasting changes never too far apart to belong together, samples, and how many times their mean distance is. */
const CLOSE = 2;
const FAR = 4;

/** Changes parted by whether they last. */
export interface SplitChanges {
  /** Whether something moves much of the time. */
  readonly isRestless: boolean;
  /** Groups of changes that last, each over in less than half of the time in which anything changes. */
  readonly lasting: readonly (readonly LastingChange[])[];
  /** The other changes. Where something moves much of the time only those that stand out of it. */
  readonly others: readonly Change[];
}

/** Tells changes that last, and those that stand out, from what moves much of the time, where something does.
 *  @param values  descriptors in steady light, in order of time
 *  @param noise  standard deviation of every value of one sample */
export function splitRestless(
  changes: readonly Change[],
  values: readonly Float64Array[],
  noise: Float64Array,
): SplitChanges {
  const all = { isRestless: false, lasting: [], others: changes };
  const { covered, times } = coverOf(changes);
  if (values.length < FEWEST_SAMPLES || covered <= RESTLESS_PART * values.length) return all;
  const asked = new Set(changes.map(({ value }) => value));
  const found = findLasting(values, noise, asked).sort((a, b) => a.before - b.before);
  const lasting = together(found).filter((group) => group.some(({ isKept }) => isKept));
  const isShort = (group: readonly LastingChange[]) =>
    group[group.length - 1].before - group[0].before < covered / 2;
  const usual = median(changes.map(({ size }) => size));
  const others = changes.filter(
    ({ size, before, after }) =>
      size > OUTSTANDING * usual &&
      !lasting.some(
        (group) => after >= group[0].before - NEAR && before <= group[group.length - 1].before + NEAR,
      ),
  );
  const isTold = lasting.every(isShort) && coverOf(others).covered < covered / 2;
  const isNothingNew = lasting.length + others.length === 0 && times < RESTLESS_TIMES;
  if (!isTold || isNothingNew) return all;
  return { isRestless: true, lasting, others };
}

/** Samples within a change, and how many times there is one with none right before. */
function coverOf(changes: readonly Change[]): { readonly covered: number; readonly times: number } {
  let covered = 0;
  let times = 0;
  let end = Number.NEGATIVE_INFINITY;
  for (const { before, after } of [...changes].sort((a, b) => a.before - b.before)) {
    if (before > end) times++;
    covered += Math.max(0, after - Math.max(before, end));
    end = Math.max(end, after);
  }
  return { covered, times };
}

/** Changes that belong together in time, in order of time: a front changes one place after the other at even distances, so they are
 *  parted where two lie much farther apart than they do on average. */
function together(sorted: readonly LastingChange[]): LastingChange[][] {
  if (sorted.length === 0) return [];
  const mean = (sorted[sorted.length - 1].before - sorted[0].before) / sorted.length;
  const parts = partedAt(sorted, Math.max(CLOSE, FAR * mean));
  return parts.length === 1 ? parts : parts.flatMap(together);
}

/** Parts a list in order of time where two neighbours lie farther apart than so many samples. */
function partedAt(sorted: readonly LastingChange[], gap: number): LastingChange[][] {
  const groups: LastingChange[][] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const change of sorted) {
    if (change.before - last > gap) groups.push([]);
    groups[groups.length - 1].push(change);
    last = change.before;
  }
  return groups;
}
