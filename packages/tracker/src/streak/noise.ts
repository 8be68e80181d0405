import { median } from "@frontpace/fit";

/** Positions of a frame looked at, at most. */
const MOST_POSITIONS = 512;

/** From this many frames on a front is in few of the differences in time. */
const MANY_FRAMES = 8;

/** A frame is foreign where it departs from the frames beside it this many times more than frames usually do. */
const FOREIGN = 8;
/** A frame brighter or darker than those beside it by half of this is no flicker, but lost, or another view; nor is a step by all of it. A step to black is 1
 *  of the mean level in an even picture, and a little less where a bright ring has passed. */
const MOST_FLICKER = 0.9;
/** More than this share of foreign frames, and they are the take. */
const MOST_FOREIGN = 0.1;
/** And so many of them may be one after the other; those in such runs may be this share. */
const MOST_IN_A_ROW = 12;
const MOST_IN_RUNS = 0.25;

/** Noise of a streak's samples, from differences in time, and where there are fewer than eight frames at most that from
 *  differences in space of the change. Medians, so that the few samples that the front crosses do not count; a change of
 *  the whole picture in proportion to its brightness (flicker) does not count either.
 *  @param data  row-major, shape [frames, positions]
 *  @param floor  smallest believable value (rounding to whole numbers)
 *  @returns standard deviation, same unit as the samples */
export function streakNoise(
  data: Float64Array,
  shape: readonly [frames: number, positions: number],
  floor: number,
): number {
  const [frames, positions] = shape;
  const inTime = frames >= 4 ? median(roughness(data, shape)) / Math.sqrt(6) : Number.POSITIVE_INFINITY;
  if (frames >= MANY_FRAMES) return Math.max(floor, inTime);
  const differences: number[] = [];
  const change = (at: number) => data[at + positions] - data[at];
  for (let i = 0; i + 1 < frames; i++)
    for (let p = 1; p < positions - 1; p++) {
      const at = i * positions + p;
      differences.push(Math.abs(change(at - 1) - 2 * change(at) + change(at + 1)) / Math.sqrt(12));
    }
  const inSpace = differences.length === 0 ? Number.POSITIVE_INFINITY : 1.4826 * median(differences);
  const least = Math.min(inTime, inSpace);
  return Number.isFinite(least) ? Math.max(floor, least) : floor;
}

/** Indices of frames that have nothing to do with those before and after: noise, a black or white frame, another
 *  view. Behind a front a level is as in the frame after, ahead of it as in the frame before, and flicker changes all in
 *  proportion; none of this counts.
 *  @param data  row-major, shape [frames, positions] */
export function foreignFrames(
  data: Float64Array,
  shape: readonly [frames: number, positions: number],
  floor: number,
): number[] {
  const [frames] = shape;
  if (frames < 8) return [];
  const rough = roughness(data, shape);
  const usual = Math.max(floor, median(rough));
  const found: number[] = [];
  if (rough.every((value) => value <= FOREIGN * usual)) return [];
  departuresInTime(data, shape, outsideOfNeighbours).forEach((value, k) => {
    // A foreign frame departs by twice what it makes its neighbours depart.
    const beside = Math.max(rough[k - 1] ?? 0, rough[k + 1] ?? 0);
    if (value > FOREIGN * usual && value > 1.5 * beside) found.push(k + 1);
  });
  if (found.length > MOST_FOREIGN * frames) return [];
  const inRuns = foreignRuns(data, shape, rough, FOREIGN * usual);
  if (inRuns.length > MOST_IN_RUNS * frames) return found;
  return [...new Set([...found, ...inRuns])].sort((a, b) => a - b);
}

/** Frames one after the other that have nothing to do with those before and after them, as where a signal is lost or something stands before
 *  the lens. They begin and end from one frame to the next, and all of them lie outside of what is seen before and after.
 *  @param rough  departures of the inner frames, shape (frames − 2,)
 *  @param least  departure that is no noise */
function foreignRuns(
  data: Float64Array,
  shape: readonly [frames: number, positions: number],
  rough: Float64Array,
  least: number,
): number[] {
  const [frames, positions] = shape;
  // Frame i changes against the next, or comes back to it, only where both depart: rough[i - 1] is that of frame i.
  const isChange = (i: number) => rough[i - 1] > least && rough[i] > least;
  const thinned = thinnedOf(data, shape);
  const found: number[] = [];
  for (let first = 2; first + 2 < frames; first++) {
    if (!isChange(first - 1)) continue;
    for (let last = first + 1; last < Math.min(first + MOST_IN_A_ROW, frames - 2); last++) {
      if (!isChange(last)) continue;
      const run = Array.from({ length: last - first + 1 }, (_, k) => first + k);
      const isOutside = (i: number) => {
        const [before, after] = [i - first + 1, last + 1 - i].map((apart) => apart * positions);
        return departureOf(thinned, i * positions, before, after, outsideOfNeighbours) > least;
      };
      if (!run.every(isOutside)) continue;
      found.push(...run);
      first = last;
      break;
    }
  }
  return found;
}

/** Samples of a streak that are looked at: each `stride`-th of a frame, so many as `level` holds. */
interface Thinned {
  readonly data: Float64Array;
  readonly stride: number;
  /** Mean of each over the frames. */
  readonly level: Float64Array;
  /** Those of them that are bright enough to tell the light by. */
  readonly bright: Int32Array;
  /** Room to work in, shapes of `bright` and `level`. */
  readonly shares: Float64Array;
  readonly departed: Float64Array;
}

/** How far levels in one frame depart from those in one before and one after.
 *  @param from  where the frame begins in the data
 *  @param before  samples from the frame before to this one
 *  @param after  samples from this frame to the one after
 *  @param common  second difference of the light, as a share of the brightness: it does not count
 *  @param into  shape of the levels */
type Departures = (
  of: Thinned,
  from: number,
  before: number,
  after: number,
  common: number,
  into: Float64Array,
) => void;

function secondDifferences(
  { data, stride, level }: Thinned,
  from: number,
  before: number,
  after: number,
  common: number,
  into: Float64Array,
): void {
  for (let k = 0, at = from; k < into.length; k++, at += stride)
    into[k] = Math.abs(data[at - before] - 2 * (data[at] + (common * level[k]) / 2) + data[at + after]);
}

/** Twice the distance from what lies between the two: the second difference where these are alike, 0 where a step passes. */
function outsideOfNeighbours(
  { data, stride, level }: Thinned,
  from: number,
  before: number,
  after: number,
  common: number,
  into: Float64Array,
): void {
  for (let k = 0, at = from; k < into.length; k++, at += stride) {
    const earlier = data[at - before];
    const later = data[at + after];
    const itself = data[at] + (common * level[k]) / 2;
    into[k] = 2 * Math.max(0, Math.min(earlier, later) - itself, itself - Math.max(earlier, later));
  }
}

/** Second differences over their levels, of the bright ones. */
function sharesOf(
  { data, stride, level, bright }: Thinned,
  from: number,
  before: number,
  after: number,
  into: Float64Array,
): void {
  for (let n = 0; n < bright.length; n++) {
    const at = from + bright[n] * stride;
    into[n] = (data[at - before] - 2 * data[at] + data[at + after]) / level[bright[n]];
  }
}

function addFrame(sums: Float64Array, data: Float64Array, from: number, stride: number): void {
  for (let k = 0, at = from; k < sums.length; k++, at += stride) sums[k] += data[at];
}

/** Roughness by streak: the same is asked for several times. */
const known = new WeakMap<Float64Array, Float64Array>();

function roughness(data: Float64Array, shape: readonly [number, number]): Float64Array {
  const spread = known.get(data) ?? departuresInTime(data, shape, secondDifferences);
  known.set(data, spread);
  return spread;
}

/** Departure in time of each inner frame from those beside it; shape (frames − 2,). */
function departuresInTime(
  data: Float64Array,
  shape: readonly [frames: number, positions: number],
  departures: Departures,
): Float64Array {
  const [frames, positions] = shape;
  const thinned = thinnedOf(data, shape);
  const inner = Array.from({ length: Math.max(0, frames - 2) }, (_, k) => (k + 1) * positions);
  const flicker = inner.map((from) => Math.abs(proportionOf(thinned, from, positions, positions)));
  // What is so in most frames is a light that pulses.
  const most = inner.length > 0 && median(flicker) >= MOST_FLICKER ? Number.POSITIVE_INFINITY : MOST_FLICKER;
  return Float64Array.from(inner, (from) =>
    departureOf(thinned, from, positions, positions, departures, most),
  );
}

/** Departure of a frame from one before and one after, over its positions a robust standard deviation, what is in
 *  proportion to the brightness taken out.
 *  @param most  what is more than this of the brightness is not taken out */
function departureOf(
  thinned: Thinned,
  from: number,
  before: number,
  after: number,
  departures: Departures,
  most = MOST_FLICKER,
): number {
  const { departed } = thinned;
  const proportion = proportionOf(thinned, from, before, after);
  departures(thinned, from, before, after, Math.abs(proportion) < most ? proportion : 0, departed);
  return 1.4826 * median(departed);
}

/** Second difference of the light, as a share of the brightness. */
function proportionOf(thinned: Thinned, from: number, before: number, after: number): number {
  const { shares } = thinned;
  sharesOf(thinned, from, before, after, shares);
  return shares.length > 0 ? median(shares) : 0;
}

function thinnedOf(
  data: Float64Array,
  [frames, positions]: readonly [frames: number, positions: number],
): Thinned {
  const stride = Math.max(1, Math.ceil(positions / MOST_POSITIONS));
  const count = Math.ceil(positions / stride);
  const level = new Float64Array(count);
  for (let i = 0; i < frames; i++) addFrame(level, data, i * positions, stride);
  let brightest = 0;
  for (let k = 0; k < count; k++) {
    level[k] /= frames;
    brightest = Math.max(brightest, Math.abs(level[k]));
  }
  const bright = Int32Array.from(level.keys()).filter((k) => Math.abs(level[k]) > brightest / 4);
  return {
    data,
    stride,
    level,
    bright,
    shares: new Float64Array(bright.length),
    departed: new Float64Array(count),
  };
}
