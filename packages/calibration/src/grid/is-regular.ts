import { median } from "../numbers/median.js";
import { fitHomography } from "../plane/fit-homography.js";
import { mapPoint } from "../plane/matrix3.js";
import { keyOf, type Lattice } from "./grow-lattice.js";

/** The points of a printed grid stand no farther from a plane map than this share of the step between them, a lens included. */
const SHARE = 0.15;
/** Figures of a plane map. */
const FIGURES = 8;

/** Whether a lattice is that of a printed grid: spots of a texture stand in rows, too, but not in even ones. */
export function isRegular({ nodes }: Lattice): boolean {
  const all = [...nodes.values()];
  const steps = all.flatMap(({ i, j, candidate: { x, y } }) =>
    [nodes.get(keyOf(i + 1, j)), nodes.get(keyOf(i, j + 1))].flatMap((next) =>
      next ? [Math.hypot(next.candidate.x - x, next.candidate.y - y)] : [],
    ),
  );
  if (new Set(all.map(({ i }) => i)).size < 2 || new Set(all.map(({ j }) => j)).size < 2) return false;
  try {
    const points = all.map(({ i, j, candidate: { x, y } }) => ({
      plane: [i, j] as const,
      pixel: [x, y] as const,
    }));
    const { toPixels } = fitHomography(points, { pointingPixels: 1 });
    const squares = points.map(({ plane, pixel }) => {
      const [x, y] = mapPoint(toPixels, plane);
      return (x - pixel[0]) ** 2 + (y - pixel[1]) ** 2;
    });
    // Of few points the map itself takes a good part of what they are off.
    const square = (2 * squares.reduce((sum, s) => sum + s, 0)) / (2 * all.length - FIGURES);
    return square <= (SHARE * median(steps)) ** 2;
  } catch {
    // Points that no plane map shows.
    return false;
  }
}
