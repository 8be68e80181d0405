import type { Point } from "./types.js";

/** Half of the length over which a course is smoothed, px. */
const REACH = 8;

/** A smooth course through a chain of pixels, a point for every pixel of its length. A chain of pixels is longer than the line that it
 *  follows, by up to a twelfth: a parabola through the pixels near to every one of them is not. */
export function smoothCourse(chain: readonly Point[]): readonly Point[] {
  const along = lengthsAlong(chain);
  const smooth = chain.map((_, k): Point => {
    const near: number[] = [];
    for (let j = k; j >= 0 && along[k] - along[j] <= REACH; j--) near.push(j);
    for (let j = k + 1; j < chain.length && along[j] - along[k] <= REACH; j++) near.push(j);
    const t = near.map((j) => along[j] - along[k]);
    const smoothAt = (axis: 0 | 1) =>
      parabolaAtZero(
        t,
        near.map((j) => chain[j][axis]),
      );
    return [smoothAt(0), smoothAt(1)];
  });
  return evenlySpaced(smooth);
}

/** Length along a chain of points up to each of them. */
export function lengthsAlong(chain: readonly Point[]): Float64Array {
  const along = new Float64Array(chain.length);
  for (let k = 1; k < chain.length; k++)
    along[k] = along[k - 1] + Math.hypot(chain[k][0] - chain[k - 1][0], chain[k][1] - chain[k - 1][1]);
  return along;
}

/** Points on a chain at every whole pixel of its length. */
function evenlySpaced(chain: readonly Point[]): readonly Point[] {
  const along = lengthsAlong(chain);
  const total = along[along.length - 1] ?? 0;
  let k = 0;
  return Array.from({ length: Math.floor(total) + 1 }, (_, length): Point => {
    while (k < along.length - 2 && along[k + 1] <= length) k++;
    const share = chain.length > 1 ? (length - along[k]) / (along[k + 1] - along[k]) : 0;
    const [a, b] = [chain[k], chain[Math.min(k + 1, chain.length - 1)]];
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  });
}

/** Value at zero of the least-squares parabola through points, or of the straight line or the mean where there are too few. */
function parabolaAtZero(t: readonly number[], values: readonly number[]): number {
  const n = t.length;
  const power = (exponent: number) => t.reduce((sum, value) => sum + value ** exponent, 0);
  const moment = (exponent: number) => t.reduce((sum, value, k) => sum + value ** exponent * values[k], 0);
  const [s1, s2, m0] = [power(1), power(2), moment(0)];
  if (n < 4) return m0 / n;
  const [s3, s4, m1, m2] = [power(3), power(4), moment(1), moment(2)];
  const determinant = n * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2);
  if (!(Math.abs(determinant) > 1e-9)) return m0 / n;
  return (m0 * (s2 * s4 - s3 * s3) - s1 * (m1 * s4 - s3 * m2) + s2 * (m1 * s3 - s2 * m2)) / determinant;
}
