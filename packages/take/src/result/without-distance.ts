import type { Settings } from "../settings/settle.js";
import type { TakeResult } from "../types.js";

/** The result with a warning where a distance of the camera was stated and no sphere was followed that it could correct. */
export function withoutDistance(
  result: TakeResult,
  { distanceMetres }: Pick<Settings, "distanceMetres">,
): TakeResult {
  if (!distanceMetres || result.status === "not-found") return result;
  const message =
    "the distance of the camera was stated and is not used: it corrects the radii of a circle, the limb of a sphere, and no circle was followed along its radius. If the front is a sphere, leave the path out, and give its centre (--origin) where it was not found";
  return {
    ...result,
    warnings: [...result.warnings, { code: "distance-not-used", message }],
  } as TakeResult;
}
