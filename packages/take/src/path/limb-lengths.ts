import type { Quantity } from "@frontpace/fit";
import { limbExcess, radiusFromLimb } from "@frontpace/planner";
import { TakeError } from "../take-error.js";

type Point = readonly [x: number, y: number];

/** Radii of a sphere along a ray in the picture on which its limb was followed. */
export interface LimbLengths {
  /** Radius of the sphere where the ray begins, m. */
  readonly firstMetres: number;
  /** By how much the radius grows, m, from where the ray begins to a distance along it in the picture, px. */
  metresAt(pixels: number): number;
  /** The other way round. */
  pixelsAt(metres: number): number;
  /** Relative change of the speed by a relative change of the camera's distance, at a distance along the ray, px. */
  speedByDistance(pixels: number): number;
  /** The same from a camera whose distance is another by a factor near 1. */
  fromDistance(factor: number): LimbLengths;
}

/** The least distance of the camera, in radii of what is seen: nearer, hardly more than the near cap of the sphere is seen. */
const NEAREST = 2;

/** Lengths along the radius of a sphere that is seen by its limb, r = R/sqrt(1 − (R/Z)²) in the plane through its centre, for which the scale
 *  holds.
 *  @param distance  Z, from the camera's lens to the centre of the sphere, m
 *  @param origin  where the centre is seen, px
 *  @param ray  along which the limb was followed, outwards, px
 *  @throws TakeError `invalid-value` where the camera would be nearer than two radii of what is seen */
export function limbLengths(
  { value: distance }: Quantity,
  metresPerPixel: number,
  origin: Point,
  [from, to]: readonly [Point, Point],
): LimbLengths {
  const first = Math.hypot(from[0] - origin[0], from[1] - origin[1]);
  const seen = (pixels: number) => Math.max(0, first + pixels) * metresPerPixel;
  const largest = seen(Math.hypot(to[0] - from[0], to[1] - from[1]));
  if (!(distance >= NEAREST * largest)) {
    const message = `distanceMetres must be at least ${NEAREST} times the radius to which the circle can be followed, ${Number(largest.toPrecision(3))} m, got ${distance}: check both units, and the scale`;
    throw new TakeError("invalid-value", message, { key: "distanceMetres", value: distance });
  }
  const radius = (pixels: number) => radiusFromLimb(seen(pixels), distance);
  const firstMetres = radius(0);
  return {
    firstMetres,
    metresAt: (pixels) => radius(pixels) - firstMetres,
    pixelsAt(metres) {
      // A line of the fit that is carried on beyond the picture is not carried on to the camera.
      const wanted = Math.min(Math.max(0, firstMetres + metres), 0.9 * distance);
      return (wanted * (1 + limbExcess(wanted, distance))) / metresPerPixel - first;
    },
    // v = (1 + q²)^(−3/2) dr/dt, q = r/Z
    speedByDistance(pixels) {
      const square = (seen(pixels) / distance) ** 2;
      return (3 * square) / (1 + square);
    },
    fromDistance: (factor) => limbLengths({ value: factor * distance }, metresPerPixel, origin, [from, to]),
  };
}
