import { finiteSamples } from "../footage/finite-samples.js";
import { hashSamples } from "../footage/hash-samples.js";
import { throttleProgress } from "../footage/throttle-progress.js";
import { type ChosenFrames, chooseFewer, chooseFrames } from "../search/choose-frames.js";
import type { FrameRange } from "../settings/check-against-frames.js";
import type { Settings } from "../settings/settle.js";
import { timeFramesOf } from "../settings/timestamps.js";
import type { MeasureContext, TakeFrames } from "../types.js";
import { cracksInPlane } from "./cracks-in-plane.js";
import { frontInPlane } from "./front-in-plane.js";
import { mapInPlane } from "./map-in-plane.js";
import { notMeasured } from "./not-measured.js";
import { refusedOrigin } from "./refused-origin.js";
import { trackAlong } from "./track-along.js";

/** Why no front is found where what comes long before or after hides it. */
const MAY_BE_HIDDEN = new Set(["no-change", "no-edge", "no-propagation-seen", "not-resolved"]);

/** Follows what runs in a take: in the frames that were asked for, or in those about its strongest event where it is long or all of them show no front.
 *  @param asked  the part that was asked for */
export async function followTake(
  frames: TakeFrames,
  settings: Settings,
  asked: FrameRange,
  context: MeasureContext,
): Promise<Followed> {
  const chosen = await chooseFrames(frames, settings, asked, context);
  const followed = await followChosen(frames, settings, chosen, context);
  return (await followFewer(frames, settings, followed, context)) ?? followed;
}

/** What was followed in the frames that were chosen, and what these are. */
type Followed = Awaited<ReturnType<typeof followChosen>>;

async function followChosen(
  frames: TakeFrames,
  settings: Settings,
  chosen: ChosenFrames,
  context: MeasureContext,
) {
  const { range, notFound } = chosen;
  const { hashed, digest, part } = hashSamples(frames);
  const { timestamps, rateHz } = settings;
  const timed = timestamps ? { ...hashed, timeFrames: timeFramesOf(timestamps, rateHz.value) } : hashed;
  const inCracks = notFound ? null : await cracksInPlane(frames, timed, settings, range, context);
  const shaped =
    notFound || inCracks
      ? null
      : await finiteSamples(frontInPlane(frames, settings, range, throttled(context)));
  const refused = notFound ?? (shaped && refusedOrigin(shaped.shape, settings.origin));
  const { outcome, inPlane } = refused
    ? { outcome: notMeasured(frames, settings, refused), inPlane: shaped }
    : inCracks
      ? { outcome: inCracks.outcome, inPlane: null }
      : await trackAlong(shaped, timed, settings, range, context);
  const kept = notFound
    ? { picture: null, refused: settings.map ? notFound.message : null }
    : await mapInPlane(frames, settings, range, inPlane, throttled(context));
  return { ...chosen, hash: digest(), part: part(), inCracks, inPlane, outcome, kept };
}

/** A front that all frames do not show, because what comes long after it hides it, followed in those about the strongest event.
 *  @returns null where they show none, either */
async function followFewer(
  frames: TakeFrames,
  settings: Settings,
  before: Followed,
  context: MeasureContext,
): Promise<Followed | null> {
  const { outcome } = before;
  if (outcome.status !== "not-found" || !MAY_BE_HIDDEN.has(outcome.reason)) return null;
  const fewer = await chooseFewer(frames, settings, before, context);
  const followed = fewer && (await followChosen(frames, settings, fewer, context));
  return followed?.outcome.status === "tracked" ? followed : null;
}

function throttled({ signal, onProgress }: MeasureContext): MeasureContext {
  return { ...(signal && { signal }), ...(onProgress && { onProgress: throttleProgress(onProgress) }) };
}
