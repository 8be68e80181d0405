/** How far the limb of a sphere is seen beyond its radius in the plane through its centre, relative: 1/sqrt(1 − (R/Z)²) − 1, which is
 *  (R/Z)²/2 for a distant camera. The line of sight touches the sphere before that plane.
 *  @param radius  R, >= 0
 *  @param distance  Z, from camera to centre, > R, in the same unit
 *  @throws RangeError outside these */
export function limbExcess(radius: number, distance: number): number {
  if (!(radius >= 0)) throw new RangeError(`radius must be >= 0, got ${radius}`);
  if (!(distance > radius && distance < Number.POSITIVE_INFINITY))
    throw new RangeError(`distance must be finite and > radius, ${radius}, got ${distance}`);
  return 1 / Math.sqrt(1 - (radius / distance) ** 2) - 1;
}

/** Radius of a sphere whose limb is seen at some distance from its centre, in the plane through that.
 *  @param seenRadius  r, >= 0
 *  @param distance  Z, > 0: R = r/sqrt(1 + (r/Z)²)
 *  @throws RangeError outside these */
export function radiusFromLimb(seenRadius: number, distance: number): number {
  if (!(seenRadius >= 0 && seenRadius < Number.POSITIVE_INFINITY))
    throw new RangeError(`seenRadius must be finite and >= 0, got ${seenRadius}`);
  if (!(distance > 0)) throw new RangeError(`distance must be > 0, got ${distance}`);
  return seenRadius / Math.hypot(1, seenRadius / distance);
}
