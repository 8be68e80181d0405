import { median } from "@frontpace/fit";
import type { ChangePicture } from "./types.js";

/** Steps across a line, [rows, columns]: along a column, a row and both diagonals. */
const ACROSS = [
  [1, 0],
  [0, 1],
  [1, 1],
  [1, -1],
] as const;
/** The middle of a line is its deepest pixel within so many of its skeleton: thinning may leave it beside. */
const NEAR = 1;

/** How wide lines are at half of their own depth, px: the median over their skeletons of the shortest way across. The part that stands out of the
 *  noise says another thing: it is the wider the less noise there is, for the foot of a line never ends.
 *  @param skeleton  1 on the skeleton of the lines, row-major, shape [rows, columns]
 *  @returns 0 where there is no skeleton */
export function widthAtHalfDepth(
  { rows, columns, significance }: Pick<ChangePicture, "rows" | "columns" | "significance">,
  skeleton: Uint8Array,
): number {
  const widths: number[] = [];
  for (let at = 0; at < skeleton.length; at++) if (skeleton[at]) widths.push(widthAt(at));
  return widths.length > 0 ? median(widths) : 0;

  function widthAt(at: number): number {
    const [row, column] = deepestNear(Math.floor(at / columns), at % columns);
    const half = significance[row * columns + column] / 2;
    return Math.min(
      ...ACROSS.map(([down, right]) => {
        const inside = 1 + stepsWithin(row, column, down, right) + stepsWithin(row, column, -down, -right);
        return inside * Math.hypot(down, right);
      }),
    );

    /** Steps to the last pixel that has half of the depth. */
    function stepsWithin(row: number, column: number, down: number, right: number): number {
      for (let steps = 0; ; steps++) {
        const [r, c] = [row + (steps + 1) * down, column + (steps + 1) * right];
        const isInside = r >= 0 && r < rows && c >= 0 && c < columns;
        if (!isInside || significance[r * columns + c] / half < 1) return steps;
      }
    }
  }

  function deepestNear(row: number, column: number): readonly [row: number, column: number] {
    let deepest: readonly [number, number] = [row, column];
    for (let r = Math.max(0, row - NEAR); r <= Math.min(rows - 1, row + NEAR); r++)
      for (let c = Math.max(0, column - NEAR); c <= Math.min(columns - 1, column + NEAR); c++)
        if (depthAt(r, c) > depthAt(...deepest)) deepest = [r, c];
    return deepest;
  }

  function depthAt(row: number, column: number): number {
    return Math.abs(significance[row * columns + column]);
  }
}
