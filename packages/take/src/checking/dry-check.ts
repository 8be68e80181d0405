import type { Footage } from "@frontpace/tracker";
import { finiteSamples } from "../footage/finite-samples.js";
import { frameSamples } from "../footage/frame-samples.js";
import { isStill, stillFrames } from "../footage/still-frames.js";
import { throttleProgress } from "../footage/throttle-progress.js";
import { withTake } from "../footage/with-take.js";
import { checkDryCheckOptions } from "../schemas/check-keys.js";
import { checkAgainstFrames } from "../settings/check-against-frames.js";
import { checkExposure } from "../settings/check-exposure.js";
import { checkExtent } from "../settings/check-extent.js";
import { planOfTake } from "../settings/plan-of-take.js";
import type { DryCheck, DryCheckOptions, MeasureContext, PlanFile, TakeFile, TakeFrames } from "../types.js";
import { assembleCheck } from "./assemble-check.js";
import { readClock } from "./read-clock.js";
import { referenceStill } from "./reference-still.js";

/** Frames looked at for light, noise and drift: the first ones. */
const MOST_FRAMES = 500;
/** Frames averaged for the blur of edges. */
const FOR_EDGES = 8;

/** A dry check of a still, or of a take in which nothing runs: what would spoil the take to come.
 *
 *  What the take is comes from `options` and from the take.json in its folder, or NAME.take.json beside its file; options win.
 *
 *  @param take  a still, a folder of numbered stills, a file that holds frames, or an open sequence, which stays open
 *  @throws TakeError, PlannerError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped */
export async function checkTake(
  take: string | { readonly frames: TakeFrames },
  options: DryCheckOptions = {},
  context: MeasureContext = {},
): Promise<DryCheck> {
  context.signal?.throwIfAborted();
  const checked = await checkDryCheckOptions(options);
  const named = typeof take === "string" ? take : null;
  const work = async (frames: TakeFrames, file: TakeFile | null): Promise<DryCheck> => {
    const plan = await planOfTake(named, checked, file);
    return checkFrames(frames, { ...file, ...checked }, plan, context);
  };
  if (named === null || !isStill(named)) return withTake(take, checked, context, work);
  return work(await stillFrames(named), null);
}

async function checkFrames(
  frames: TakeFrames,
  joined: DryCheckOptions,
  plan: PlanFile | null,
  { signal, onProgress }: MeasureContext,
): Promise<DryCheck> {
  const { path = null, width = null, firstFrame = null, lastFrame = null } = joined;
  checkExtent(joined);
  checkExposure(joined.exposureSeconds, joined.rateHz);
  const range = checkAgainstFrames({ path, width, firstFrame, lastFrame }, frames);
  const last = Math.min(range.end, range.start + MOST_FRAMES) - 1;
  const clock = await readClock(frames, range, joined, joined.rateHz ?? null, signal);
  const { inspectFootage } = await import("@frontpace/tracker");
  const footage: Footage = await finiteSamples(
    inspectFootage(frames, {
      ...(path && { path }),
      ...(width !== null && { width }),
      firstFrame: frames.numbers[range.start],
      lastFrame: frames.numbers[last],
      ...(signal && { signal }),
      ...(onProgress && { onProgress: throttleProgress(onProgress) }),
    }),
  );
  const first = Math.min(last + 1, range.start + FOR_EDGES);
  const pictures = await frameSamples(frames, range.start, first, signal);
  const reference = await referenceStill(frames, range.start);
  const check = await assembleCheck({ frames, options: joined, plan, footage, pictures, clock, reference });
  return { check, reference: reference && { file: reference.file, bytes: reference.bytes } };
}
