import { median } from "@frontpace/fit";
import type { ChangeInTime } from "./change-in-time.js";
import { frameOfColumn, leastStrength } from "./first-line.js";

/** Where a front is at a frame number, px, and its direction. */
export interface BentWay {
  readonly sense: 1 | -1;
  readonly positionAt: (number: number) => number;
  /** First and last frame number at which a position changed. */
  readonly ends: readonly [number, number];
}

/** Part of the positions that must change, in one sense, and of these that must do so close to the way. */
const LEAST_CHANGED = 0.5;
const LEAST_ON_WAY = 0.8;
/** Close to it: so many frames, or this part of its time. */
const CLOSE_FRAMES = 1.01;
const CLOSE = 0.03;
/** In less time than this a way is as good as straight, frames. */
const SHORTEST = 6;
/** Part of the changes that the way is smoothed over, and the fewest. */
const SMOOTHED = 0.03;
const FEWEST_SMOOTHED = 5;

interface Knot {
  readonly frame: number;
  readonly position: number;
}

/** The way of one front that never turns back, whatever its speed at each place, through the strongest changes of all positions.
 *  @param change  at every position
 *  @returns null where fewer positions change in one sense, or fewer of them one after the other, than a front leaves */
export function bentWay(change: ChangeInTime, frameNumbers: readonly number[]): BentWay | null {
  const changes = changesOfOneSense(change, frameNumbers);
  if (changes.length < LEAST_CHANGED * change.positions) return null;
  const smoothed = runningMedian(changes);
  const third = Math.ceil(changes.length / 3);
  const timeOf = (knots: readonly Knot[]) => median(knots.map(({ frame }) => frame));
  const sense = timeOf(smoothed.slice(-third)) > timeOf(smoothed.slice(0, third)) ? 1 : -1;
  const knots = increasing(sense === 1 ? smoothed : smoothed.toReversed());
  const ends = [knots[0].frame, knots[knots.length - 1].frame] as const;
  if (ends[1] - ends[0] < SHORTEST) return null;
  const frameAt = interpolated(knots.map(({ frame, position }) => [sense * position, frame]));
  const close = Math.max(CLOSE_FRAMES, CLOSE * (ends[1] - ends[0]));
  const onWay = changes.filter(({ frame, position }) => Math.abs(frame - frameAt(sense * position)) < close);
  if (onWay.length < LEAST_ON_WAY * changes.length) return null;
  return { sense, ends, positionAt: interpolated(knots.map(({ frame, position }) => [frame, position])) };
}

/** The strongest change of every position that changes in the sense that most do, in order of position. */
function changesOfOneSense(change: ChangeInTime, frameNumbers: readonly number[]): readonly Knot[] {
  const { columns, strength, strongest } = change;
  const least = leastStrength(columns);
  const sized = Array.from(strongest, (column, position) => ({
    column,
    position,
    size: column < 0 ? 0 : strength[position * columns + column],
  })).filter(({ size }) => Math.abs(size) >= least);
  const sign = Math.sign(sized.reduce((sum, { size }) => sum + Math.sign(size), 0));
  return sized
    .filter(({ size }) => size * sign > 0)
    .map(({ column, position }) => ({
      position,
      frame: frameOfColumn(change, frameNumbers, column),
    }));
}

function runningMedian(knots: readonly Knot[]): readonly Knot[] {
  const half = Math.floor(Math.max(FEWEST_SMOOTHED, SMOOTHED * knots.length) / 2);
  return knots.map(({ position }, k) => {
    // As far to either side, or the ends of the way are drawn in.
    const reach = Math.min(half, k, knots.length - 1 - k);
    return { position, frame: median(knots.slice(k - reach, k + reach + 1).map(({ frame }) => frame)) };
  });
}

/** The knots as close to these as can be whose frames increase: neighbours that do not are taken together.
 *  @see Barlow et al., Statistical Inference under Order Restrictions (1972): pooling adjacent violators (citation from memory) */
function increasing(knots: readonly Knot[]): readonly Knot[] {
  const pools: { frame: number; position: number; count: number }[] = [];
  for (const { frame, position } of knots) {
    let pool = { frame, position, count: 1 };
    for (let last = pools.at(-1); last && last.frame >= pool.frame; last = pools.at(-1)) {
      pools.pop();
      const count = last.count + pool.count;
      const mean = (a: number, b: number) => (a * last.count + b * pool.count) / count;
      pool = { frame: mean(last.frame, pool.frame), position: mean(last.position, pool.position), count };
    }
    pools.push(pool);
  }
  return pools;
}

/** A function through points, straight between them and on beyond the ends.
 *  @param points  (x, y), x increasing, one or more */
function interpolated(points: readonly (readonly [number, number])[]): (x: number) => number {
  if (points.length === 1) return () => points[0][1];
  return (x) => {
    let k = 0;
    let end = points.length - 2;
    while (k < end) {
      const middle = (k + end + 1) >> 1;
      if (points[middle][0] <= x) k = middle;
      else end = middle - 1;
    }
    const [[x0, y0], [x1, y1]] = [points[k], points[k + 1]];
    return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  };
}
