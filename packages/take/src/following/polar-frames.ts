import type { FrameSource } from "@frontpace/tracker";
import { sampledFrames } from "../footage/sampled-frames.js";
import { longestTogether } from "./longest-together.js";
import { spanWithin } from "./span-within.js";

type Point = readonly [x: number, y: number];

/** An ellipse by its axes: longer over shorter, and where the longer lies, degrees from x towards y. */
export interface Oval {
  readonly ratio: number;
  readonly angleDegrees: number;
}

/** Radius of an ellipse in a direction, where the geometric mean of its half axes is 1. */
export function ovalRadius({ ratio, angleDegrees }: Oval, angle: number): number {
  const aside = angle - (angleDegrees * Math.PI) / 180;
  return 1 / Math.hypot(Math.cos(aside) / Math.sqrt(ratio), Math.sin(aside) * Math.sqrt(ratio));
}

/** Radius in a direction of what is 1 px wide on the mean, as a frame shows it: r = s v (t + rowTime r sin angle), s the radius of the oval.
 *  @param pixelsPerRow  how far the front runs while a row is read */
export function reachAt(angle: number, oval: Oval | undefined, pixelsPerRow: number): number {
  return 1 / (1 / (oval ? ovalRadius(oval, angle) : 1) - pixelsPerRow * Math.sin(angle));
}

/** Frames about an origin: a row for every ray that lies in the picture, a column for every pixel of radius. A circle that opens is a
 *  straight front along the rows; so is an ellipse whose rays are read in steps as long as its radius in their direction. */
export interface PolarFrames {
  readonly source: FrameSource;
  /** One of the rays read, in the picture, px: the one in their middle, of an ellipse one of mean radius. */
  readonly ray: readonly [Point, Point];
}

/** Closer to the origin the rays read the same pixels, px. */
const INNERMOST = 6;
/** Fewest rays, and shortest, px. */
const FEWEST_RAYS = 8;
const SHORTEST = 16;
const MOST_RAYS = 720;

/** How the rays of a front are read. */
export interface PolarOptions {
  /** Of an ellipse; radii then are the geometric means of its half axes. Default: a circle. */
  readonly oval?: Oval | undefined;
  /** How far the front runs while a row is read, px, where rows are read in turn: rays down the picture are then read in longer steps than those
   *  up, and radii are those at the time of the origin's row. Default: 0, all rows are taken at once. */
  readonly pixelsPerRow?: number;
}

/** @param origin  px, in the picture or outside
 *  @returns null where no rays long enough lie in the picture */
export function polarFrames(
  frames: FrameSource,
  origin: Point,
  { oval, pixelsPerRow = 0 }: PolarOptions = {},
): PolarFrames | null {
  const stepAt = (angle: number) => reachAt(angle, oval, pixelsPerRow);
  const chosen = chooseRays(frames, origin, stepAt);
  if (!chosen) return null;
  const { angles, first, count } = chosen;
  const rays = angles.length;
  const steps = angles.map(stepAt);
  const radiusOf = (ray: number, step: number) => (first + step) * steps[ray];
  const placeOn = (ray: number, radius: number): Point => [
    origin[0] + radius * Math.cos(angles[ray]),
    origin[1] + radius * Math.sin(angles[ray]),
  ];
  const placeAt = (ray: number, step: number) => placeOn(ray, readAt(radiusOf(ray, step)));
  const source = sampledFrames(frames, { rows: rays, columns: count, placeAt });
  // Of an ellipse the ray whose pixels are most nearly those of the mean radius.
  const middle = angles.reduce(
    (best, _, k) => (Math.abs(steps[k] - 1) < Math.abs(steps[best] - 1) - 1e-9 ? k : best),
    Math.floor(rays / 2),
  );
  return {
    source,
    ray: [placeOn(middle, radiusOf(middle, 0)), placeOn(middle, radiusOf(middle, count - 1))],
  };
}

/** Where a ray is read, px, to show what lies at a radius. To read linearly between pixels blurs by a variance of 1/6 px² each way, the mean of f (1 − f), and a
 *  blur of variance b² draws a circle of radius r in by b²/(2r): that of 10 px by 0.008 px, those farther out by less, which made a circle that opens
 *  a ten-thousandth too fast. */
function readAt(radius: number): number {
  return radius - 1 / (12 * radius);
}

interface Rays {
  readonly angles: readonly number[];
  /** Smallest radius and number of radii, px. */
  readonly first: number;
  readonly count: number;
}

/** Rays that lie wholly in the picture between two radii, those that together tell most of a speed. */
function chooseRays(
  { rows, columns }: FrameSource,
  [ox, oy]: Point,
  stepAt: (angle: number) => number,
): Rays | null {
  const [right, bottom] = [columns - 1, rows - 1];
  const nearest = Math.hypot(Math.max(0, -ox, ox - right), Math.max(0, -oy, oy - bottom));
  const farthest = Math.hypot(Math.max(ox, right - ox), Math.max(oy, bottom - oy));
  const total = Math.min(MOST_RAYS, Math.ceil(2 * Math.PI * farthest));
  const all = Array.from({ length: total }, (_, k) => (2 * Math.PI * k) / total);
  const spans = all.map((angle) => {
    const [from, to] = spanWithin(
      { rows, columns },
      [ox, oy],
      [stepAt(angle) * Math.cos(angle), stepAt(angle) * Math.sin(angle)],
    );
    return [Math.max(0, from), to] as const;
  });
  const fewest = { lines: FEWEST_RAYS, pixels: SHORTEST };
  const stretch = longestTogether(spans, [Math.max(INNERMOST, nearest), farthest], fewest);
  if (!stretch) return null;
  const [first, last] = stretch;
  const seen = all.filter((_, k) => spans[k][0] <= first && spans[k][1] >= last);
  // No more rays than there are pixels about the middle radius.
  const most = Math.ceil((seen.length / total) * Math.PI * (first + last));
  const stride = Math.max(1, seen.length / most);
  const angles = Array.from(
    { length: Math.floor(seen.length / stride) },
    (_, k) => seen[Math.floor(k * stride)],
  );
  return { angles, first, count: Math.floor(last - first) + 1 };
}
