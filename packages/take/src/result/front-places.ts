import type { Streak } from "@frontpace/tracker";
import { type Oval, reachAt } from "../following/polar-frames.js";
import type { TakeResult } from "../types.js";

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

/** A front with a form of its own that meets a path along its run at a position along it, over the width of the band that was read.
 *  @param lagPixels  how far it lies behind at a place across the run, px from the middle of the picture
 *  @param middle  of the picture, px */
export function formAcross(
  lagPixels: (across: number) => number,
  [mx, my]: Point,
  { path: [from, to], width }: Pick<Streak, "path" | "width">,
  positionPixels: number,
): FrontPlace {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const ofPath = (from[1] - my) * dx - (from[0] - mx) * dy;
  const points = Array.from({ length: width }, (_, k) => k - (width - 1) / 2).flatMap(
    (side): [number, number][] => {
      const along = positionPixels - (lagPixels(ofPath + side) - lagPixels(ofPath));
      if (!Number.isFinite(along)) return [];
      return [[from[0] + dx * along - dy * side, from[1] + dy * along + dx * side]];
    },
  );
  return { kind: "line", points };
}

/** What a round front runs from. */
export interface RoundAbout {
  readonly origin: Point;
  /** Of an ellipse. Default: a circle. */
  readonly oval?: Oval;
  /** How far it runs while a row is read, px: it has moved on in the rows below. Default: 0, all rows are taken at once. */
  readonly pixelsPerRow?: number;
}

/** A circle that meets one of its rays at a position along it, or an ellipse of that mean radius, as a frame shows it. */
export function circleAbout(
  { origin, oval, pixelsPerRow = 0 }: RoundAbout,
  [from]: Streak["path"],
  positionPixels: number,
): FrontPlace {
  const radius = Math.hypot(from[0] - origin[0], from[1] - origin[1]) + positionPixels;
  if (oval || pixelsPerRow !== 0) {
    const points = Array.from({ length: OVAL_POINTS + 1 }, (_, k): [number, number] => {
      const angle = (2 * Math.PI * k) / OVAL_POINTS;
      const reach = radius * reachAt(angle, oval, pixelsPerRow);
      return [origin[0] + reach * Math.cos(angle), origin[1] + reach * Math.sin(angle)];
    });
    return { kind: "line", points };
  }
  return { kind: "circle", centre: [origin[0], origin[1]], radius };
}

/** Fronts of which only their lines are known, numbered from 1, in a frame.
 *  @param lines  along the path; firstFrame and lastFrame are numbers of frames
 *  @param about  of round fronts, of which the path is a ray; null: they are straight */
export function placesOnLines(
  lines: readonly {
    readonly firstFrame: number;
    readonly lastFrame: number;
    readonly fromPixels: number;
    readonly toPixels: number;
  }[],
  along: Pick<Streak, "path" | "width">,
  about: RoundAbout | null,
  frame: number,
): FrontPlace[] {
  return lines.flatMap(({ firstFrame: from, lastFrame: to, fromPixels, toPixels }, k) => {
    if (frame < from || frame > to) return [];
    const share = to > from ? (frame - from) / (to - from) : 0;
    const at = fromPixels + share * (toPixels - fromPixels);
    const place = about ? circleAbout(about, along.path, at) : lineAcross(along, at);
    return [{ ...place, number: k + 1 }];
  });
}

/** The same front farther along its path: a line keeps its tilt, a circle its centre.
 *  @param pixels  px along the path */
export function movedAlong(place: FrontPlace, [from, to]: Streak["path"], pixels: number): FrontPlace {
  const { points, radius, ...rest } = place;
  if (radius !== undefined) return { ...rest, radius: Math.max(0, radius + pixels) };
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [dx, dy] = [((to[0] - from[0]) / length) * pixels, ((to[1] - from[1]) / length) * pixels];
  return { ...rest, points: (points ?? []).map(([x, y]) => [x + dx, y + dy]) };
}

/** The same round front, told by points along it, at another size.
 *  @param factor  by which its radii differ */
export function grownAbout([ox, oy]: Point, place: FrontPlace, factor: number): FrontPlace {
  const grown = ([x, y]: Point): [number, number] => [ox + (x - ox) * factor, oy + (y - oy) * factor];
  return { ...place, points: (place.points ?? []).map(grown) };
}
