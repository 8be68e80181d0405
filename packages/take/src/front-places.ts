import type { Streak } from "@frontpace/tracker";
import { type Oval, ovalRadius } from "./polar-frames.js";
import type { TakeResult } from "./types.js";

type Point = readonly [x: number, y: number];
export type FrontPlace = NonNullable<TakeResult["event"]>[number]["fronts"][number];

/** Points that an ellipse is drawn through. */
const OVAL_POINTS = 72;

/** A front across a path at a position along it, as wide as the band that was read.
 *  @param tiltDegrees  positive where it lies further along the path on the path's right-hand side */
export function lineAcross(
  { path: [from, to], width }: Pick<Streak, "path" | "width">,
  positionPixels: number,
  tiltDegrees = 0,
): FrontPlace {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const ahead = Math.tan((tiltDegrees * Math.PI) / 180);
  const end = (side: number): [number, number] => [
    from[0] + dx * (positionPixels + side * ahead) - dy * side,
    from[1] + dy * (positionPixels + side * ahead) + dx * side,
  ];
  return { kind: "line", points: [end(-width / 2), end(width / 2)] };
}

/** A circle that meets one of its rays at a position along it, or an ellipse of that mean radius. */
export function circleAbout(
  origin: Point,
  [from]: Streak["path"],
  positionPixels: number,
  oval?: Oval,
): FrontPlace {
  const radius = Math.hypot(from[0] - origin[0], from[1] - origin[1]) + positionPixels;
  if (oval) {
    const points = Array.from({ length: OVAL_POINTS + 1 }, (_, k): [number, number] => {
      const angle = (2 * Math.PI * k) / OVAL_POINTS;
      const reach = radius * ovalRadius(oval, angle);
      return [origin[0] + reach * Math.cos(angle), origin[1] + reach * Math.sin(angle)];
    });
    return { kind: "line", points };
  }
  return { kind: "circle", centre: [origin[0], origin[1]], radius };
}
