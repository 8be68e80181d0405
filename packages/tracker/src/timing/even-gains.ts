import { fitPolynomial } from "@frontpace/fit";

/** Levels that differ by this part of the whole change are alike. */
const ALIKE = 0.01;

/** What a path as a whole gains in each frame, and what it would if what runs along it ran evenly, with the contrast that each place has. */
export interface Gains {
  /** Shape (frames,), 0 in the first. */
  readonly seen: Float64Array;
  /** From each of some frames to the next, in order: of what enters from that end of the path from which it comes nearer to what is seen. */
  readonly even: (first: number, last: number) => Float64Array;
}

/** @param light  of each frame over that of the first, shape (frames,)
 *  @param restless  1 at places that do not count, shape (positions,) */
export function gainsAlong(data: Float64Array, light: Float64Array, restless: Uint8Array): Gains {
  const positions = restless.length;
  const frames = light.length;
  const change = Float64Array.from(restless, (isRestless, p) =>
    isRestless ? 0 : data[(frames - 1) * positions + p] / light[frames - 1] - data[p] / light[0],
  );
  const level = light.map((share, i) => {
    let sum = 0;
    for (let p = 0; p < positions; p++)
      sum += Math.sign(change[p]) * (data[i * positions + p] / share - data[p] / light[0]);
    return sum;
  });
  const ways = [change, change.toReversed()].map(cumulative);
  return {
    seen: level.map((value, i) => (i > 0 ? Math.abs(value - level[i - 1]) : 0)),
    even(first, last) {
      const part = level.subarray(first, last + 1);
      const [one, other] = ways.map((way) => evenLevels(way, part));
      const nearer = squares(one, part) <= squares(other, part) ? one : other;
      return nearer.subarray(1).map((value, k) => Math.abs(value - nearer[k]));
    },
  };
}

function squares(levels: Float64Array, seen: Float64Array): number {
  return levels.reduce((sum, value, k) => sum + (value - seen[k]) ** 2, 0);
}

/** Change of all places up to each, shape (positions + 1,). */
function cumulative(change: Float64Array): Float64Array {
  const sums = new Float64Array(change.length + 1);
  change.forEach((value, p) => {
    sums[p + 1] = sums[p] + Math.abs(value);
  });
  return sums;
}

/** Levels while what runs goes on the line through the places of those seen, shape as these. */
function evenLevels(way: Float64Array, seen: Float64Array): Float64Array {
  const places = Array.from(seen, (level) => placeOf(way, level));
  const { coefficients } = fitPolynomial(
    places.map((_, k) => k),
    places,
    1,
  );
  return Float64Array.from(places, (_, k) => {
    const place = Math.max(0, Math.min(way.length - 1, coefficients[0] + coefficients[1] * k));
    const below = Math.min(way.length - 2, Math.floor(place));
    return way[below] + (place - below) * (way[below + 1] - way[below]);
  });
}

/** Where along the way a level is reached, in places; where it stays so for a while, the middle of that. */
function placeOf(way: Float64Array, level: number): number {
  const alike = ALIKE * way[way.length - 1];
  return (reachedAt(way, level - alike) + reachedAt(way, level + alike)) / 2;
}

function reachedAt(way: Float64Array, level: number): number {
  const next = way.findIndex((sum) => sum >= level);
  if (next < 0) return way.length - 1;
  return next === 0 ? 0 : next - (way[next] - level) / (way[next] - way[next - 1]);
}
