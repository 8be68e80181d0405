import { smoothCourse } from "./smooth-course.js";
import type { ChangePicture, Point } from "./types.js";

/** Thinning places a line to a pixel or so; twice towards its middle is enough. */
const ROUNDS = 2;

/** A course through the middle of the line that it follows: at every point the centre of gravity of the change across it.
 *  @param reach  px looked at to either side */
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
      const [from, to] = [points[Math.max(0, k - 1)], points[Math.min(points.length - 1, k + 1)]];
      const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
      const length = Math.hypot(dx, dy);
      if (!(length > 0)) return point;
      const across: Point = [-dy / length, dx / length];
      const offset = centreAcross(picture, point, across, reach, sign);
      return [point[0] + offset * across[0], point[1] + offset * across[1]];
    });
    points = smoothCourse(moved);
  }
  return points;
}

/** Distance from a point to the centre of gravity of the change across a line, px. */
function centreAcross(
  picture: ChangePicture,
  [x, y]: Point,
  [nx, ny]: Point,
  reach: number,
  sign: number,
): number {
  let [weight, moment] = [0, 0];
  for (let step = -2 * reach; step <= 2 * reach; step++) {
    const offset = step / 2;
    const value = Math.max(0, sign * between(picture, x + offset * nx, y + offset * ny));
    weight += value;
    moment += value * offset;
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
