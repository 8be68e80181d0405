import { smoothCourse } from "./smooth-course.js";
import type { ChangePicture, Point } from "./types.js";

/** Thinning places a line to a pixel or so; twice towards its middle is enough. */
const ROUNDS = 2;

/** A course through the middle of the line that it follows: at every point the centre of gravity of the change across it. It ends where it leaves the
 *  picture.
 *  @param reach  px looked at to either side; near a border only as far as it lies in the picture on both sides, for one side alone would draw the course
 *    towards it */
export function refineCourse(
  picture: ChangePicture,
  course: readonly Point[],
  reach: number,
  polarity: "bright" | "dark",
): readonly Point[] {
  const sign = polarity === "dark" ? -1 : 1;
  let points = course;
  for (let round = 0; round < ROUNDS; round++) {
    const moved = points.map((point, k): Point => {
      const across = acrossAt(points, k);
      if (!across) return point;
      const offset = centreAcross(picture, point, across, reach, sign);
      return [point[0] + offset * across[0], point[1] + offset * across[1]];
    });
    points = smoothCourse(moved);
  }
  return withoutBrokenEnds(withinPicture(points, picture), picture, reach);
}

/** A course without its ends that lie so near to a border that half of what is looked at across them is not in the picture: a line that runs out of it
 *  obliquely has its corner as the end of its skeleton, beside its middle. No more than is looked at goes, for a line may run along a border. */
function withoutBrokenEnds(
  points: readonly Point[],
  picture: ChangePicture,
  reach: number,
): readonly Point[] {
  const most = Math.min(2 * reach, Math.floor(points.length / 3));
  const isBroken = (k: number) => {
    const [nx, ny] = acrossAt(points, k) ?? [0, 0];
    const [x, y] = points[k];
    return [-1, 1].some(
      (side) => !isWithin(picture, [x + (side * reach * nx) / 2, y + (side * reach * ny) / 2]),
    );
  };
  let [start, end] = [0, points.length];
  while (start < most && isBroken(start)) start++;
  while (points.length - end < most && isBroken(end - 1)) end--;
  return points.slice(start, end);
}

/** Direction across a course, of length 1; null where the course stands still. */
function acrossAt(points: readonly Point[], k: number): Point | null {
  const [from, to] = [points[Math.max(0, k - 1)], points[Math.min(points.length - 1, k + 1)]];
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  return length > 0 ? [-dy / length, dx / length] : null;
}

/** The longest stretch of a course that does not leave the picture. */
function withinPicture(points: readonly Point[], picture: ChangePicture): readonly Point[] {
  let longest: readonly Point[] = [];
  for (let start = 0, k = 0; k <= points.length; k++) {
    if (k < points.length && isWithin(picture, points[k])) continue;
    if (k - start > longest.length) longest = points.slice(start, k);
    start = k + 1;
  }
  return longest;
}

function isWithin({ rows, columns }: ChangePicture, [x, y]: Point): boolean {
  return x >= 0 && y >= 0 && x <= columns - 1 && y <= rows - 1;
}

/** Distance from a point to the centre of gravity of the change across a line, px. */
function centreAcross(
  picture: ChangePicture,
  [x, y]: Point,
  [nx, ny]: Point,
  reach: number,
  sign: number,
): number {
  const changeAt = (offset: number) => Math.max(0, sign * between(picture, x + offset * nx, y + offset * ny));
  const isInside = (offset: number) => isWithin(picture, [x + offset * nx, y + offset * ny]);
  let [weight, moment] = [changeAt(0), 0];
  for (let offset = 0.5; offset <= reach && isInside(offset) && isInside(-offset); offset += 0.5) {
    const [right, left] = [changeAt(offset), changeAt(-offset)];
    weight += right + left;
    moment += (right - left) * offset;
  }
  return weight > 0 ? moment / weight : 0;
}

/** The change between pixels, linearly; beyond the border that at the border. */
function between({ rows, columns, significance }: ChangePicture, x: number, y: number): number {
  const column = Math.min(columns - 2, Math.max(0, Math.floor(x)));
  const row = Math.min(rows - 2, Math.max(0, Math.floor(y)));
  const [fx, fy] = [x - column, y - row].map((share) => Math.min(1, Math.max(0, share)));
  const at = row * columns + column;
  const upper = significance[at] * (1 - fx) + significance[at + 1] * fx;
  const lower = significance[at + columns] * (1 - fx) + significance[at + columns + 1] * fx;
  return upper * (1 - fy) + lower * fy;
}
