import type { Point } from "../types.js";

/** Where the neighbours of a point of a grid stand from it. */
export interface Surroundings {
  /** Distances to those that are there, px. */
  readonly distances: readonly number[];
  /** Directions of the two lines through the point, radians. */
  readonly directions: readonly [number, number];
}

/** @param at  place of the point so many steps along and across from this one, px; null: there is none */
export function surroundingsOf(at: (di: number, dj: number) => Point | null): Surroundings {
  const own = at(0, 0)!;
  const step = (di: number, dj: number): Point | null => {
    const other = at(di, dj);
    return other && [other[0] - own[0], other[1] - own[1]];
  };
  const direction = (forward: Point | null, back: Point | null) =>
    Math.atan2((forward?.[1] ?? 0) - (back?.[1] ?? 0), (forward?.[0] ?? 0) - (back?.[0] ?? 0));
  const [right, left, down, up] = [step(1, 0), step(-1, 0), step(0, 1), step(0, -1)];
  return {
    distances: [right, left, down, up].flatMap((s) => (s ? [Math.hypot(...s)] : [])),
    directions: [direction(right, left), direction(down, up)],
  };
}
