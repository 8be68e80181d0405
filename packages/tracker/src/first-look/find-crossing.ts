import { median } from "@frontpace/fit";
import type { BrightnessField } from "../model/front-model.js";
import type { Polarity } from "../types.js";
import { isPartInLight } from "./part-in-light.js";

/** A change that passed over the path too fast to be followed. */
export interface Crossing {
  /** Index of the last frame that shows none of it, and of the first that shows it crossed. */
  readonly lastBefore: number;
  readonly firstAfter: number;
  /** Length of path that changed, less the shares of the way that count as none and as crossed, px. */
  readonly lengthPixels: number;
  readonly polarity: Polarity;
  /** Whether a frame between the two shows the front part of the way. */
  readonly seenUnderway: boolean;
}

/** A position has changed when its levels before and after differ by this many standard deviations. */
const CHANGED = 6;
/** Shares of the way within which a crossing counts as not begun, or as complete. */
const LEAST_SHARE = 0.02;
/** More frames than this that show the front under way, and the change is slow, not too fast. */
const MOST_UNDERWAY = 4;

/** Part of the path that must have changed, from the first position that did to the last, and within. */
const LEAST_REACH = 0.9;
const LEAST_FILLED = 0.8;

/** Difference of the changed shares on the two sides of a front; smear makes a ramp of it, a lamp leaves none. */
const PART_WAY = 0.4;
/** That difference is told from noise where it is larger by this many of its standard deviations. */
const BEYOND_NOISE = 3;

/** Looks for a front that is before the path in one frame and past it at most five frames later.
 *  @param noise  standard deviation of a sample
 *  @returns null where the change does not reach from one end of the path to the other, where one end of it changes as
 *    the light alone makes it and the rest does not, where a frame shows it spread otherwise than from one end, or where it
 *    took longer */
export function findCrossing(field: BrightnessField, noise: number): Crossing | null {
  const { data, frames, positions } = field;
  if (frames < 2) return null;
  const split = commonSplit(field);
  const early = Math.max(1, split - MOST_UNDERWAY);
  const late = Math.min(frames - 1, split + MOST_UNDERWAY);
  const before = levels(field, 0, early);
  const after = levels(field, late, frames);
  const least = CHANGED * noise * Math.sqrt(1 / early + 1 / (frames - late));
  const changed: number[] = [];
  for (let p = 0; p < positions; p++) if (Math.abs(after[p] - before[p]) > least) changed.push(p);
  const varianceBefore = noise ** 2 / early;
  const varianceAfter = noise ** 2 / (frames - late);
  if (isPartInLight({ before, after, varianceBefore, varianceAfter })) return null;
  const brighter = changed.filter((p) => after[p] > before[p]).length;
  if (changed.length < 2) return null;
  const polarity: Polarity = 2 * brighter >= changed.length ? "bright" : "dark";
  const alike = changed.filter((p) => after[p] > before[p] === (polarity === "bright"));
  if (alike.length < 0.9 * changed.length) return null;

  const squares = alike.reduce((sum, p) => sum + (after[p] - before[p]) ** 2, 0);
  const shareOf = (i: number) =>
    alike.reduce((sum, p) => sum + (after[p] - before[p]) * (data[i * positions + p] - before[p]), 0) /
    squares;
  // From mid-level to mid-level: the tails of a blurred front reach further than it ran.
  const halfway = median(alike.map((p) => Math.abs(after[p] - before[p]))) / 2;
  const run = alike.filter((p) => Math.abs(after[p] - before[p]) > halfway);
  const reach = run[run.length - 1] - run[0];
  if (reach < LEAST_REACH * (positions - 1) || alike.length < LEAST_FILLED * (reach + 1)) return null;
  const limit = Math.max(LEAST_SHARE, (3 * noise) / Math.sqrt(squares));
  if (limit > 0.25) return null;
  let lastBefore = -1;
  while (lastBefore + 1 < frames && shareOf(lastBefore + 1) < limit) lastBefore++;
  let firstAfter = frames;
  while (firstAfter > 0 && shareOf(firstAfter - 1) > 1 - limit) firstAfter--;
  if (lastBefore < 0 || firstAfter >= frames || firstAfter - lastBefore - 1 > MOST_UNDERWAY) return null;
  const underway = Array.from({ length: firstAfter - lastBefore - 1 }, (_, k) => lastBefore + 1 + k);
  const shares = underway.map((i) =>
    alike.map((p) => (data[i * positions + p] - before[p]) / (after[p] - before[p])),
  );
  const shareVariance =
    alike.reduce((sum, p) => sum + (noise / (after[p] - before[p])) ** 2, 0) / alike.length;
  const partWay = shares.filter((share) => isPartWay(share, shareVariance));
  if (!partWay.every((share) => isFromOneEnd(share))) return null;
  return {
    lastBefore,
    firstAfter,
    lengthPixels: reach * (1 - 2 * limit),
    polarity,
    seenUnderway: partWay.length > 0,
  };
}

function levels({ data, positions }: BrightnessField, first: number, end: number): Float64Array {
  const mean = new Float64Array(positions);
  for (let i = first; i < end; i++)
    for (let p = 0; p < positions; p++) mean[p] += data[i * positions + p] / (end - first);
  return mean;
}

/** Frame from which on the whole path differs most from before. */
function commonSplit({ data, frames, positions }: BrightnessField): number {
  let best = 1;
  let largest = -1;
  const sums = new Float64Array(positions);
  const totals = levels({ data, frames, positions }, 0, frames).map((mean) => mean * frames);
  for (let k = 1; k < frames; k++) {
    let evidence = 0;
    for (let p = 0; p < positions; p++) {
      sums[p] += data[(k - 1) * positions + p];
      const contrast = (totals[p] - sums[p]) / (frames - k) - sums[p] / k;
      evidence += (contrast * contrast * k * (frames - k)) / frames;
    }
    if (evidence > largest) {
      largest = evidence;
      best = k;
    }
  }
  return best;
}

/** Whether changed shares along the path are those of a front part of the way: larger on one side of some place
 *  than on the other, rather than alike everywhere as under a lamp that comes up.
 *  @param variance  of one share, by the noise of its sample */
function isPartWay(shares: readonly number[], variance: number): boolean {
  const total = shares.reduce((sum, share) => sum + share, 0);
  let left = 0;
  for (let k = 1; k < shares.length; k++) {
    left += shares[k - 1];
    const near = left / k;
    const far = (total - left) / (shares.length - k);
    const noise = Math.sqrt(variance * (1 / k + 1 / (shares.length - k)));
    if (Math.abs(near - far) > PART_WAY + BEYOND_NOISE * noise) return true;
  }
  return false;
}

/** Whether changed shares fall, or rise, from one end of the path to the other, as behind and ahead of one front; they
 *  do not where a change spreads from the middle. */
function isFromOneEnd(shares: readonly number[]): boolean {
  const [first, middle, last] = [0, 1, 2].map((part) => {
    const from = Math.floor((part * shares.length) / 3);
    const end = Math.max(from + 1, Math.floor(((part + 1) * shares.length) / 3));
    return shares.slice(from, end).reduce((sum, share) => sum + share, 0) / (end - from);
  });
  const beyond = Math.max(Math.min(first, last) - middle, middle - Math.max(first, last));
  return beyond < PART_WAY / 2;
}
