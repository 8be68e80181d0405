import type { FrontShape } from "@frontpace/arrival";
import type { Settings } from "../settings/settle.js";

/** Why a front is not measured about the origin that was given: about that the arrivals are no circle, and about their own they are. Along rows or columns, where
 *  it would be looked for otherwise, a circle shows no even course.
 *  @returns null where they do not contradict it */
export function refusedOrigin(
  {
    shape,
    originContradicted,
    circleFound,
  }: Pick<FrontShape, "shape" | "originContradicted" | "circleFound">,
  origin: Settings["origin"],
): { readonly reason: "origin-contradicted"; readonly message: string } | null {
  if (shape === "circle" || !originContradicted || !circleFound || !origin) return null;
  const off = Math.hypot(circleFound.origin[0] - origin[0], circleFound.origin[1] - origin[1]);
  const [x, y] = circleFound.origin.map((value) => value.toFixed(1));
  return {
    reason: "origin-contradicted",
    message: `the arrivals contradict the origin that was given (--origin ${origin[0]},${origin[1]}): about that the front is no circle, while about ${x}, ${y} px, ${off.toFixed(1)} px from there, it is. Leave --origin out, or give --origin ${x},${y}`,
  };
}
