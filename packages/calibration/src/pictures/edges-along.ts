import type { Picture, Point } from "../types.js";
import { blurred, fieldOf, sampleAt } from "./field.js";
import { noiseOf } from "./noise-of.js";
import { type RefinedEdge, refineEdge } from "./refine-edge.js";

/** An edge that a path crosses. */
export interface EdgeOnPath extends RefinedEdge {
  /** Standard deviation of the blur along the path, the integrating pixel in it, px. */
  readonly blurAlongPixels: number;
}

/** Blur of the picture in which edges are sought, px. */
const SMOOTH = 2;
/** Kept clear of the ends of the path and of a stronger edge, px. */
const CLEAR = 8;
const MOST_EDGES = 12;
/** An edge is a change of so many noise levels of the smoothed picture within two pixels. */
const SEEN = 6;
/** A blur is told where its standard uncertainty is less than this part of it. */
const TOLD = 0.15;
/** The fit leaves less than this part of the step, root mean square, beyond the noise: else it is no plain edge. */
const LEFT = 0.12;
/** What the path meets at a flatter angle tells little of the blur along it. */
const STEEPEST_DEGREES = 45;
const RADII = [9, 14, 22, 30] as const;
/** Where other edges stand near. */
const NARROW = [6, 9] as const;
/** Blurs of one edge in two circles agree to this part. */
const SAME = 0.2;
/** Its plateaus slope by no more than this part of the step. */
const MOST_SLOPE = 0.25;

/** The straight edges that a path crosses, with their blur: a step blurred by a Gaussian, fitted to the samples around.
 *  The edge may be slanted against the rows, which is how it is sampled more finely than by the pixels.
 *  @param path  px, from its first point to its second
 *  @returns sharpest first, none where the path crosses no edge that stands by itself
 *  @see ISO 12233:2017, annex D, for the slanted edge (the idea; not its transfer function) */
export function edgesAlong(picture: Picture, [from, to]: readonly [Point, Point]): EdgeOnPath[] {
  const field = fieldOf(picture);
  const smooth = blurred(field, SMOOTH);
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const placeAt = (at: number): Point => [from[0] + dx * at, from[1] + dy * at];
  const valueAt = (at: number) => sampleAt(smooth, ...placeAt(at));
  const noise = noiseOf(field);
  const least = (SEEN * noise) / (2 * Math.sqrt(Math.PI) * SMOOTH) + 1e-9;
  const changes = Array.from({ length: Math.max(0, Math.floor(length - 2 * CLEAR) + 1) }, (_, k) => {
    const at = CLEAR + k;
    return { at, change: Math.abs(valueAt(at + 1) - valueAt(at - 1)) };
  })
    .filter(({ change }) => change > least)
    .sort((a, b) => b.change - a.change);
  const starts: number[] = [];
  for (const { at } of changes) {
    if (starts.length >= MOST_EDGES) break;
    if (starts.every((other) => Math.abs(other - at) > CLEAR)) starts.push(at);
  }
  return starts
    .flatMap((at) => {
      const place = placeAt(at);
      const gradient = ([x, y]: Point): number =>
        Math.atan2(
          sampleAt(smooth, x, y + 1) - sampleAt(smooth, x, y - 1),
          sampleAt(smooth, x + 1, y) - sampleAt(smooth, x - 1, y),
        );
      const within = (radii: readonly number[]) =>
        plainEdge(radii, (radius) => refineEdge(field, place, gradient(place), radius), noise);
      const edge = within(RADII) ?? within(NARROW);
      if (!edge || edge.standardUncertaintyPixels > TOLD * edge.blurPixels) return [];
      const cosine = Math.abs(Math.cos(edge.normalRadians) * dx + Math.sin(edge.normalRadians) * dy);
      if (cosine < Math.cos((STEEPEST_DEGREES * Math.PI) / 180)) return [];
      return [{ ...edge, blurAlongPixels: edge.blurPixels / cosine }];
    })
    .sort((a, b) => a.blurAlongPixels - b.blurAlongPixels);
}

/** The fit in the smallest circle that holds the blur whole, which tells it with least of what else is about. A wider one
 *  tells the same of an edge between two plateaus, and another blur of a wave of texture.
 *  @param radii  px, increasing
 *  @returns null where that is no plain edge */
function plainEdge(
  radii: readonly number[],
  fitWithin: (radius: number) => RefinedEdge | null,
  noise: number,
): RefinedEdge | null {
  for (const [k, radius] of radii.slice(0, -1).entries()) {
    const fit = fitWithin(radius);
    if (!fit || !(2.5 * fit.blurPixels < radius)) continue;
    const wider = fitWithin(radii[k + 1]);
    if (!wider) return null;
    const areEdges = [fit, wider].every(
      ({ left, step, slope }) => left ** 2 - noise ** 2 < (LEFT * step) ** 2 && slope < MOST_SLOPE,
    );
    return areEdges && Math.abs(wider.blurPixels / fit.blurPixels - 1) < SAME ? fit : null;
  }
  return null;
}
