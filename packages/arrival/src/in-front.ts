import type { Point } from "./types.js";

/** Places in the frame of the front: along its run, and across. */
export type InFront = (x: number, y: number) => readonly [along: number, across: number];

/** Places along the run of a straight front and across it. */
export function alongSlowness(px: number, py: number): InFront {
  return (x, y) => [x * px + y * py, y * px - x * py];
}

/** Places along the radius and about the origin, from the side on which the middle of the picture lies. */
export function alongRadius([cx, cy]: Point): InFront {
  const towards = Math.atan2(-cy, -cx);
  return (x, y) => {
    const angle = Math.atan2(y - cy, x - cx) - towards;
    return [Math.hypot(x - cx, y - cy), angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))];
  };
}
