import { median } from "@frontpace/fit";
import type { ChangeRing, Greatest } from "./change-ring.js";
import type { FirstPass, Look } from "./first-pass.js";
import type { ArrivalMap } from "./types.js";

/** A change of this many standard deviations of its noise counts: of 10,000 cells and 1,000 frames one shows it by chance. */
const SIGNIFICANT = 5.5;
/** Longer bins where a change is seen in this many times the cells, or grows by as much: it had not fitted into the window. */
const MORE_CELLS = 1.25;
const LARGER_CHANGE = 1.15;
/** Larger cells where the change is seen in this many times the area. */
const MORE_AREA = 1.5;
/** A change of a smaller part of those that are larger than nine in ten is not the front's, but a drift or a glow. */
const LEAST_PART = 0.15;
/** A place changes back where it does so by this share of its change, and the front passes where this share of the places does. */
const RETURNED = 0.6;
const MOSTLY = 0.5;
/** One sense is that of the front where it is the stronger in this share of the cells. */
const ONE_SENSE = 0.8;

/** The changes that the map is made of. */
export interface ChosenLook {
  readonly look: Look;
  readonly kind: ArrivalMap["kind"];
  readonly polarity: ArrivalMap["polarity"];
  /** Index of the frame of the greatest change, NaN where none is significant. */
  readonly index: Float64Array;
  /** Of a cell in one frame, by differences in time. */
  readonly noise: number;
  readonly flickers: boolean;
}

/** The smallest cells and the shortest bins that show what larger ones show. */
export function chooseLook(pass: FirstPass): ChosenLook {
  const bySize = pass.looks.map((looks, k) => bestBins(looks, pass.light[k].noise));
  const k = bySize.reduce(
    (best, { share }, next) => (share > MORE_AREA * bySize[best].share ? next : best),
    0,
  );
  const { look, changes } = bySize[k];
  return {
    look,
    kind: changes.kind,
    polarity: changes.polarity,
    index: changes.index,
    noise: pass.light[k].noise,
    flickers: pass.light[k].flickers,
  };
}

interface Changes {
  readonly kind: ArrivalMap["kind"];
  readonly polarity: ArrivalMap["polarity"];
  readonly size: Float64Array;
  readonly index: Float64Array;
}

function bestBins(looks: readonly Look[], noise: number) {
  const tried = looks.map((look) => {
    const changes = changesOf(look.ring, noise);
    const seen = changes.index.reduce((count, index) => count + (Number.isNaN(index) ? 0 : 1), 0);
    return { look, changes, share: seen / changes.index.length };
  });
  return tried.reduce((best, next) =>
    next.share > MORE_CELLS * best.share ||
    (next.changes.kind === best.changes.kind &&
      next.share > 0.8 * best.share &&
      growth(best.changes, next.changes) > LARGER_CHANGE)
      ? next
      : best,
  );
}

/** Median ratio of the changes in the cells that show one in both. */
function growth(short: Changes, long: Changes): number {
  const ratios: number[] = [];
  for (let i = 0; i < short.index.length; i++)
    if (!Number.isNaN(short.index[i]) && !Number.isNaN(long.index[i]))
      ratios.push(long.size[i] / short.size[i]);
  return ratios.length === 0 ? 1 : median(ratios);
}

/** Whether the changes stay or pass, and in which sense. */
function changesOf({ stays, passes, window, framesPerBin }: ChangeRing, noise: number): Changes {
  const ofBin = noise / Math.sqrt(framesPerBin);
  const { level, gap } = window;
  const core = gap > 3 ? gap - 2 : gap;
  const noiseOfStays = SIGNIFICANT * ofBin * Math.sqrt(2 / level);
  const staying = oneSense(stays, noiseOfStays);
  const passing = oneSense(passes, SIGNIFICANT * ofBin * Math.sqrt(1 / core + 1 / (2 * level)));
  return staying.strength >= passing.strength && !(passing.strength > 0 && returns(stays, noiseOfStays))
    ? { kind: "stays", ...staying }
    : { kind: "passes", ...passing };
}

/** Whether most places that change change back by as much: what passes slowly looks in short bins like one step up and one down. */
function returns({ bright, dark }: ChangeRing["stays"], noiseLimit: number): boolean {
  let seen = 0;
  let back = 0;
  for (let i = 0; i < bright.size.length; i++) {
    const larger = Math.max(bright.size[i], dark.size[i]);
    if (!(larger > noiseLimit)) continue;
    seen++;
    if (Math.min(bright.size[i], dark.size[i]) > RETURNED * larger) back++;
  }
  return back > MOSTLY * seen;
}

/** The changes in noise levels, in the sense that most cells show, or in either. */
function oneSense({ bright, dark }: { bright: Greatest; dark: Greatest }, noiseLimit: number) {
  const cells = bright.size.length;
  const either = bright.size.map((size, i) => Math.max(size, dark.size[i]));
  const least = Math.max(noiseLimit, LEAST_PART * ninthDecile(either.filter((size) => size > noiseLimit)));
  const seen = either.reduce((count, size) => count + (size > least ? 1 : 0), 0);
  const brighter = either.reduce((n, size, i) => n + (size > least && size === bright.size[i] ? 1 : 0), 0);
  const polarity =
    brighter >= ONE_SENSE * seen ? "bright" : brighter <= (1 - ONE_SENSE) * seen ? "dark" : "either";
  const size = polarity === "either" ? either : polarity === "bright" ? bright.size : dark.size;
  const index = new Float64Array(cells).fill(Number.NaN);
  const usual = medianOf(size.filter((one) => one > least));
  let strength = 0;
  for (let i = 0; i < cells; i++) {
    if (!(size[i] > least)) continue;
    index[i] = (size[i] === bright.size[i] ? bright : dark).index[i];
    // A flash at the origin changes few cells by far more than the front changes any.
    strength += Math.min(size[i], usual) / noiseLimit;
  }
  return { polarity, size, index, strength } as const;
}

function medianOf(values: Float64Array): number {
  return values.length === 0 ? 0 : median(values);
}

function ninthDecile(values: Float64Array): number {
  return values.length === 0 ? 0 : values.toSorted()[Math.floor(0.9 * values.length)];
}
