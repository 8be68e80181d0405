import { type LimbLengths, limbLengths } from "../path/limb-lengths.js";
import type { Settings } from "../settings/settle.js";
import type { InPlane } from "./front-in-plane.js";

type Point = readonly [x: number, y: number];

/** What the camera's distance makes of lengths along the ray of a circle. An ellipse is the limb of no sphere.
 *  @returns null where no distance is stated, or no circle was followed along its radius */
export function limbOf(
  along: InPlane["along"] | null,
  ray: readonly [Point, Point],
  { distanceMetres }: Settings,
  metresPerPixel: number,
): LimbLengths | null {
  if (!distanceMetres || along?.kind !== "radius" || along.oval) return null;
  return limbLengths(distanceMetres, metresPerPixel, along.origin, ray);
}
