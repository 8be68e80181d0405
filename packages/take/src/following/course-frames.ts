import type { FrameSource } from "@frontpace/tracker";
import { sampledFrames } from "../footage/sampled-frames.js";

type Point = readonly [x: number, y: number];

/** Frames along a curved course: a column for every point of it, a row for every pixel across. What runs along the course is
 *  a straight front along the rows.
 *  @param points  of the course, 1 px apart
 *  @param reach  px read to either side of it */
export function courseFrames(frames: FrameSource, points: readonly Point[], reach: number): FrameSource {
  const across = points.map((_, k): Point => {
    const [from, to] = [points[Math.max(0, k - 1)], points[Math.min(points.length - 1, k + 1)]];
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const length = Math.hypot(dx, dy) || 1;
    return [-dy / length, dx / length];
  });
  return sampledFrames(frames, {
    rows: 2 * reach + 1,
    columns: points.length,
    placeAt: (row, column) => [
      points[column][0] + (row - reach) * across[column][0],
      points[column][1] + (row - reach) * across[column][1],
    ],
  });
}
