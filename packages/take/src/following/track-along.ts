import type { FrameSource, Streak, TrackOutcome } from "@frontpace/tracker";
import { finiteSamples } from "../footage/finite-samples.js";
import { pathOf } from "../path/path-of.js";
import type { FrameRange } from "../settings/check-against-frames.js";
import type { Settings } from "../settings/settle.js";
import type { MeasureContext } from "../types.js";
import { acrossItself } from "./across-itself.js";
import { withDrawnIn } from "./drawn-in.js";
import { formFrames } from "./form-frames.js";
import type { InPlane } from "./front-in-plane.js";
import { inPicture } from "./in-picture.js";
import { limbOf } from "./limb-of.js";
import { polarFrames } from "./polar-frames.js";
import { alongRows, trackIn } from "./track-in.js";
import { withEdge } from "./with-edge.js";
import { withoutShape } from "./without-shape.js";

/** Follows the front along the path that its shape asks for; in rays about its origin the path of the outcome is one of them.
 *  @returns with the shape, and along what it was followed in the end */
export async function trackAlong(
  inPlane: InPlane | null,
  frames: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<Followed> {
  const followed = await followShape(inPlane, frames, settings, range, context);
  // Who gives a path, or the point that it runs from, says that a front runs.
  if (settings.path || settings.origin) return followed;
  const outcome = withoutShape(withEdge(followed.outcome, settings.front), inPlane?.shape ?? null);
  return { ...followed, outcome };
}

/** Why the tracker finds no straight course where a ring that runs shows in the arrivals: a flash at its origin, which fades as it runs, is the larger change
 *  along the rays. Each frame by itself shows the ring. */
const HIDDEN = "no-propagation-seen";

interface Followed {
  readonly outcome: TrackOutcome;
  readonly inPlane: InPlane | null;
}

async function followShape(
  inPlane: InPlane | null,
  frames: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<Followed> {
  const along = inPlane?.along;
  if (along?.kind === "path") {
    const isSpot = inPlane?.isSpot ?? false;
    // A spot that is known to be one need not be looked for in parts of the width.
    const band = { ...settings, path: pathOf(along.path), isPathFound: !isSpot, width: along.width };
    const outcome = await trackIn(frames, band, range, context);
    return { outcome: isSpot && outcome.status === "tracked" ? onlyASpot(outcome.streak) : outcome, inPlane };
  }
  const form = along?.kind === "form" && formFrames(frames, along.rigid, settings.width);
  if (form) {
    const rows = { ...alongRows(form.source, settings), front: settings.front };
    return { outcome: inPicture(await trackIn(form.source, rows, range, context), form.path), inPlane };
  }
  if (inPlane && along?.kind === "radius") {
    const round = await followRound({ ...inPlane, along }, frames, settings, range, context);
    if (round) return round;
  }
  const outcome = await trackIn(frames, settings, range, context);
  const across = await acrossItself(outcome, inPlane?.shape.shape ?? null, frames, settings, range, context);
  if (!across) return { outcome, inPlane };
  return { outcome: across.outcome, inPlane: inPlane && { ...inPlane, along: across.along } };
}

type Round = InPlane & { readonly along: Extract<InPlane["along"], { kind: "radius" }> };

/** A circle along the rays about its origin: as a straight course, or frame by frame.
 *  @returns null where no rays of some length lie in the picture, or another front is asked for than the one that is followed frame by frame */
async function followRound(
  inPlane: Round,
  frames: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<Followed | null> {
  const { along, map, shape } = inPlane;
  const polar = polarFrames(frames, along.origin, along);
  if (!polar) return null;
  const limb = limbOf(along, polar.ray, settings, settings.metresPerPixel.value);
  const toRadii = limb && ((pixels: number) => limb.metresAt(pixels) / settings.metresPerPixel.value);
  if (along.varying) {
    if ((settings.front ?? 1) !== 1) return null;
    const { followRadius } = await import("./follow-radius.js");
    const followed = followRadius(polar, along.varying, map, range, toRadii, context);
    return { outcome: await finiteSamples(followed), inPlane };
  }
  const rays = {
    ...alongRows(polar.source, settings),
    front: settings.front,
    ...(toRadii && { straighten: () => toRadii }),
  };
  const followed = inPicture(await trackIn(polar.source, rays, range, context), polar.ray);
  const { varying } = shape;
  if (followed.status === "not-found" && followed.reason === HIDDEN && map.kind === "passes" && varying) {
    const { pixelsPerRow } = along;
    const byFrame: Round = {
      ...inPlane,
      along: { kind: "radius", origin: varying.origin, pixelsPerRow, varying },
    };
    const again = await followRound(byFrame, frames, settings, range, context);
    if (again?.outcome.status === "tracked") return again;
  }
  const [[x, y]] = polar.ray;
  const firstRadius = Math.hypot(x - along.origin[0], y - along.origin[1]);
  return { outcome: withDrawnIn(followed, firstRadius), inPlane };
}

/** In a path as narrow as itself a spot looks like a front. */
function onlyASpot(streak: Streak): TrackOutcome {
  const message =
    "what runs passes in a part of the picture and leaves nothing, like a fragment that flies past. If that is the front, give the path that it runs";
  return { status: "not-found", reason: "only-a-spot", message, streak, warnings: [] };
}
