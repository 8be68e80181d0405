import type { ReportedFrontPlace } from "../words/reported-result.js";

/** A rectangle, px. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

type Point = readonly [x: number, y: number];

/** Distance of a box from a front: 0 where they meet, px.
 *  @param ring  radius of the ring about a tip, px */
export function clearanceOfFront(
  box: Box,
  { points = [], centre, radius, kind }: ReportedFrontPlace,
  ring: number,
): number {
  if (centre && radius !== undefined) return distanceOfCircle(box, centre, radius);
  if (kind === "line")
    return points
      .slice(1)
      .reduce(
        (least, to, k) => Math.min(least, distanceOfSegment(box, points[k], to)),
        Number.POSITIVE_INFINITY,
      );
  return Math.max(0, distanceOfPoint(box, points[0]) - ring);
}

/** Distance between two boxes: 0 where they meet, px. */
export function clearanceOfBox(a: Box, b: Box): number {
  const across = Math.max(0, b.left - (a.left + a.width), a.left - (b.left + b.width));
  const down = Math.max(0, b.top - (a.top + a.height), a.top - (b.top + b.height));
  return Math.hypot(across, down);
}

function distanceOfPoint({ left, top, width, height }: Box, [x, y]: Point): number {
  return Math.hypot(Math.max(0, left - x, x - left - width), Math.max(0, top - y, y - top - height));
}

/** A circle as a line: a box within it is as far from it as its farthest corner leaves. */
function distanceOfCircle(box: Box, [x, y]: Point, radius: number): number {
  const nearest = distanceOfPoint(box, [x, y]);
  const { left, top, width, height } = box;
  const farthest = Math.hypot(
    Math.max(Math.abs(left - x), Math.abs(left + width - x)),
    Math.max(Math.abs(top - y), Math.abs(top + height - y)),
  );
  return Math.max(0, nearest - radius, radius - farthest);
}

function distanceOfSegment(box: Box, from: Point, to: Point): number {
  if (crosses(box, from, to)) return 0;
  const { left, top, width, height } = box;
  const corners: Point[] = [
    [left, top],
    [left + width, top],
    [left, top + height],
    [left + width, top + height],
  ];
  // Of two convex figures that do not meet a corner of one is nearest to the other.
  return Math.min(
    distanceOfPoint(box, from),
    distanceOfPoint(box, to),
    ...corners.map((corner) => pointToSegment(corner, from, to)),
  );
}

/** Whether a part of a segment lies in a box: clipped by its four sides, something is left (Liang and Barsky 1984, from memory). */
function crosses({ left, top, width, height }: Box, [x1, y1]: Point, [x2, y2]: Point): boolean {
  let [enter, leave] = [0, 1];
  for (const [step, room] of [
    [x1 - x2, x1 - left],
    [x2 - x1, left + width - x1],
    [y1 - y2, y1 - top],
    [y2 - y1, top + height - y1],
  ]) {
    if (step === 0 && room < 0) return false;
    if (step < 0) enter = Math.max(enter, room / step);
    if (step > 0) leave = Math.min(leave, room / step);
  }
  return enter <= leave;
}

function pointToSegment([x, y]: Point, [x1, y1]: Point, [x2, y2]: Point): number {
  const [dx, dy] = [x2 - x1, y2 - y1];
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - x1) * dx + (y - y1) * dy) / square));
  return Math.hypot(x - x1 - share * dx, y - y1 - share * dy);
}
