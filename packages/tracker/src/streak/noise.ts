import { median } from "@frontpace/fit";

/** Positions of a frame looked at, at most. */
const MOST_POSITIONS = 512;

/** From this many frames on a front is in few of the differences in time. */
const MANY_FRAMES = 8;

/** A frame is foreign where it departs from the frames beside it this many times more than frames usually do. */
const FOREIGN = 8;
/** A frame brighter or darker than those beside it by half of this is no flicker, but lost, or another view. */
const MOST_FLICKER = 1;
/** More than this share of foreign frames, and they are the take. */
const MOST_FOREIGN = 0.1;

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
  return found.length > MOST_FOREIGN * frames ? [] : found;
}

/** Samples of a streak that are looked at: each `stride`-th of the `positions`, so many as `level` holds. */
interface Thinned {
  readonly data: Float64Array;
  readonly positions: number;
  readonly stride: number;
  /** Mean of each over the frames. */
  readonly level: Float64Array;
}

/** How far levels in one frame depart from those in the frames before and after.
 *  @param from  where the frame begins in the data
 *  @param common  second difference of the light, as a share of the brightness: it does not count
 *  @param into  shape of the levels */
type Departures = (of: Thinned, from: number, common: number, into: Float64Array) => void;

function secondDifferences(
  { data, positions, stride, level }: Thinned,
  from: number,
  common: number,
  into: Float64Array,
): void {
  for (let k = 0, at = from; k < into.length; k++, at += stride)
    into[k] = Math.abs(
      data[at - positions] - 2 * (data[at] + (common * level[k]) / 2) + data[at + positions],
    );
}

/** Twice the distance from what lies between the two: the second difference where these are alike, 0 where a step passes. */
function outsideOfNeighbours(
  { data, positions, stride, level }: Thinned,
  from: number,
  common: number,
  into: Float64Array,
): void {
  for (let k = 0, at = from; k < into.length; k++, at += stride) {
    const before = data[at - positions];
    const after = data[at + positions];
    const itself = data[at] + (common * level[k]) / 2;
    into[k] = 2 * Math.max(0, Math.min(before, after) - itself, itself - Math.max(before, after));
  }
}

/** Their second differences over their levels, of those whose places are given. */
function sharesOf(
  { data, positions, stride, level }: Thinned,
  from: number,
  places: Int32Array,
  into: Float64Array,
): void {
  for (let n = 0; n < places.length; n++) {
    const at = from + places[n] * stride;
    into[n] = (data[at - positions] - 2 * data[at] + data[at + positions]) / level[places[n]];
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

/** Departure in time of each inner frame, over its positions a robust standard deviation, what is in
 *  proportion to the brightness taken out; shape (frames − 2,). */
function departuresInTime(
  data: Float64Array,
  [frames, positions]: readonly [number, number],
  departures: Departures,
): Float64Array {
  const stride = Math.max(1, Math.ceil(positions / MOST_POSITIONS));
  const count = Math.ceil(positions / stride);
  const level = new Float64Array(count);
  for (let i = 0; i < frames; i++) addFrame(level, data, i * positions, stride);
  let brightest = 0;
  for (let k = 0; k < count; k++) {
    level[k] /= frames;
    brightest = Math.max(brightest, Math.abs(level[k]));
  }
  const thinned = { data, positions, stride, level };
  const bright = Int32Array.from(level.keys()).filter((k) => Math.abs(level[k]) > brightest / 4);
  const shares = new Float64Array(bright.length);
  const spread = new Float64Array(Math.max(0, frames - 2));
  const departed = new Float64Array(count);
  for (let i = 1; i + 1 < frames; i++) {
    sharesOf(thinned, i * positions, bright, shares);
    const proportion = brightest > 0 ? median(shares) : 0;
    const common = Math.abs(proportion) < MOST_FLICKER ? proportion : 0;
    departures(thinned, i * positions, common, departed);
    spread[i - 1] = 1.4826 * median(departed);
  }
  return spread;
}
