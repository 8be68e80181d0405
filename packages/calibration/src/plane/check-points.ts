import { CalibrationError } from "../calibration-error.js";
import type { Point } from "../types.js";

/** Pixel and plane points that belong together. */
export interface Correspondence {
  readonly pixel: Point;
  /** m */
  readonly plane: Point;
}

/** Points count as in a line where all lie this close to it, as a share of their length. */
const FLAT = 1e-3;

/** Checks that points fix a plane-to-plane map.
 *  @throws CalibrationError `too-few-points`, `coincident-points`, `points-in-line`, `invalid-value` */
export function checkPoints(points: readonly Correspondence[]): void {
  for (const { pixel, plane } of points)
    if (![...pixel, ...plane].every(Number.isFinite))
      throw new CalibrationError("invalid-value", `points must be finite, got ${pixel} px at ${plane} m`);
  if (points.length < 4)
    throw new CalibrationError(
      "too-few-points",
      `a plane map needs at least 4 points, got ${points.length}: add points that do not lie in one line`,
    );
  for (const [name, of] of sides) {
    const places = points.map(of);
    coincidence(places, name);
    if (independent(places) < 4) {
      const message = `all but one of the ${points.length} points (${name}) lie in a line: a plane map needs four of which no three are in a line`;
      throw new CalibrationError("points-in-line", message);
    }
  }
}

const sides: readonly (readonly [string, (one: Correspondence) => Point])[] = [
  ["in the picture", ({ pixel }) => pixel],
  ["in the plane", ({ plane }) => plane],
];

function coincidence(places: readonly Point[], name: string): void {
  const near = 1e-6 * extentOf(places);
  if (!isAnyNear(places, near)) return;
  for (let i = 0; i < places.length; i++)
    for (let j = 0; j < i; j++)
      if (Math.hypot(places[i][0] - places[j][0], places[i][1] - places[j][1]) <= near) {
        const message = `points ${j + 1} and ${i + 1} are the same point ${name}, ${places[i].join(",")}: name each point once`;
        throw new CalibrationError("coincident-points", message);
      }
}

/** Whether any two places are as near to each other. Of places in order of their columns only the next few have to be looked at. */
function isAnyNear(places: readonly Point[], near: number): boolean {
  const sorted = [...places].sort(([a, c], [b, d]) => a - b || c - d);
  return sorted.some(([x, y], k) => {
    for (let n = k + 1; n < sorted.length && sorted[n][0] - x <= near; n++)
      if (Math.hypot(sorted[n][0] - x, sorted[n][1] - y) <= near) return true;
    return false;
  });
}

/** 4 where four points are in general position, otherwise fewer: tried from the line on which most points lie. */
function independent(places: readonly Point[]): number {
  const size = extentOf(places);
  const far = (a: Point, b: Point, p: Point) =>
    Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) >
    FLAT * size * Math.hypot(b[0] - a[0], b[1] - a[1]);
  let least = places.length;
  // Every line through two points: a second point off it must not be alone.
  const some = places.length > 60 ? places.filter((_, k) => k % Math.ceil(places.length / 60) === 0) : places;
  for (let i = 0; i < some.length; i++)
    for (let j = 0; j < i; j++) {
      let off = 0;
      for (let k = 0; k < places.length && off < 2; k++) if (far(some[i], some[j], places[k])) off++;
      least = Math.min(least, off);
      if (least === 0) return 2;
    }
  return least >= 2 ? 4 : 2 + least;
}

function extentOf(places: readonly Point[]): number {
  const span = (k: 0 | 1) => Math.max(...places.map((p) => p[k])) - Math.min(...places.map((p) => p[k]));
  return Math.hypot(span(0), span(1));
}
