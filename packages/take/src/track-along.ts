import type { FrameSource, TrackOutcome } from "@frontpace/tracker";
import { acrossItself } from "./across-itself.js";
import type { FrameRange } from "./check-against-frames.js";
import { finiteSamples } from "./finite-samples.js";
import type { InPlane } from "./front-in-plane.js";
import { inPicture } from "./in-picture.js";
import { pathOf } from "./path-of.js";
import { polarFrames } from "./polar-frames.js";
import type { Settings } from "./settle.js";
import { alongRows, trackIn } from "./track-in.js";
import type { MeasureContext } from "./types.js";

/** Follows the front along the path that its shape asks for; in rays about its origin the path of the outcome is one of them.
 *  @returns with the shape, and along what it was followed in the end */
export async function trackAlong(
  inPlane: InPlane | null,
  frames: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<{ readonly outcome: TrackOutcome; readonly inPlane: InPlane | null }> {
  const along = inPlane?.along;
  if (along?.kind === "path") {
    const band = { ...settings, path: pathOf(along.path), width: along.width };
    return { outcome: await trackIn(frames, band, range, context), inPlane };
  }
  const polar = along?.kind === "radius" ? polarFrames(frames, along.origin, along.oval) : null;
  if (inPlane && along?.kind === "radius" && polar) {
    if (along.varying) {
      const { followRadius } = await import("./follow-radius.js");
      const followed = followRadius(polar, along.varying, inPlane.map, range, context);
      return { outcome: await finiteSamples(followed), inPlane };
    }
    const rays = alongRows(polar.source, settings);
    return { outcome: inPicture(await trackIn(polar.source, rays, range, context), polar.ray), inPlane };
  }
  const outcome = await trackIn(frames, settings, range, context);
  const across = inPlane && (await acrossItself(outcome, inPlane, frames, settings, range, context));
  return across && inPlane
    ? { outcome: across.outcome, inPlane: { ...inPlane, along: across.along } }
    : { outcome, inPlane };
}
