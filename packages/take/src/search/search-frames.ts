import type { FindResult } from "@frontpace/finder";
import { finiteSamples } from "../footage/finite-samples.js";
import { throttleProgress } from "../footage/throttle-progress.js";
import { checkAgainstFrames } from "../settings/check-against-frames.js";
import { checkRegion } from "../settings/check-region.js";
import type { SearchSettings } from "../settings/settle-search.js";
import type { MeasureContext, TakeFrames } from "../types.js";
import { eventSource } from "./event-source.js";

/** Looks for events in the part of a take that the settings name.
 *  @throws TakeError `frames-outside`, `path-outside`, `width-outside`, `region-outside`, `samples-not-finite`; the
 *    frame loader's error; `signal.reason` when stopped */
export async function searchFrames(
  frames: TakeFrames,
  settings: SearchSettings,
  { signal, onProgress }: MeasureContext,
): Promise<FindResult> {
  checkAgainstFrames(settings, frames);
  const { path, width, region, firstFrame, lastFrame, shortestFrames, thorough } = settings;
  const part = region && checkRegion(region, frames);
  const { findEvents } = await import("@frontpace/finder");
  const found = await finiteSamples(
    findEvents(eventSource(frames), {
      shortestFrames,
      thorough,
      ...(path && { path }),
      ...(width !== null && { width }),
      ...(part && { region: part }),
      ...(firstFrame !== null && { firstFrame }),
      ...(lastFrame !== null && { lastFrame }),
      ...(signal && { signal }),
      ...(onProgress && { onProgress: throttleProgress(onProgress) }),
    }),
  );
  // What has grown meanwhile was not looked at: nothing is said of a take that is still being written.
  await frames.checkUnchanged?.();
  return found;
}
