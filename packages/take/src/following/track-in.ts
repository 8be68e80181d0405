import type { FrameSource, TrackOptions, TrackOutcome } from "@frontpace/tracker";
import { finiteSamples } from "../footage/finite-samples.js";
import { throttleProgress } from "../footage/throttle-progress.js";
import type { FrameRange } from "../settings/check-against-frames.js";
import { collectionSeconds } from "../settings/collection-seconds.js";
import type { Settings } from "../settings/settle.js";
import type { MeasureContext } from "../types.js";

/** Settings whose path was laid through what runs in the picture. */
type Followed = Settings & Pick<TrackOptions, "isPathFound" | "straighten">;

/** Follows the front of these frames, within a range of them. */
export async function trackIn(
  frames: FrameSource,
  settings: Followed,
  { start, end }: FrameRange,
  { signal, onProgress }: MeasureContext,
): Promise<TrackOutcome> {
  const { trackFront } = await import("@frontpace/tracker");
  return finiteSamples(
    trackFront(frames, {
      ...(await trackOptions(settings)),
      firstFrame: frames.numbers[start],
      lastFrame: frames.numbers[end - 1],
      ...(signal && { signal }),
      ...(onProgress && { onProgress: throttleProgress(onProgress) }),
    }),
  );
}

async function trackOptions(settings: Followed): Promise<TrackOptions> {
  const { path, isPathFound, straighten, width, polarity, front, rateHz, calibration } = settings;
  const plane = calibration?.scale.planeMap ? await import("../path/straightened.js") : null;
  const seconds = collectionSeconds(settings);
  return {
    ...(path && { path }),
    ...(isPathFound && { isPathFound }),
    ...(width !== null && { width }),
    ...(polarity && { polarity }),
    ...(front !== null && { front }),
    ...(seconds !== null && { exposureFraction: Math.min(1, seconds * rateHz.value) }),
    ...(calibration && plane && { straighten: (path) => plane.straightened(calibration, path) }),
    ...(straighten && { straighten }),
  };
}

/** The settings for frames that were sampled so that the front runs along their rows. */
export function alongRows({ rows, columns }: FrameSource, settings: Settings): Settings {
  const middle = (rows - 1) / 2;
  const path: Settings["path"] = [
    [0, middle],
    [columns - 1, middle],
  ];
  return { ...settings, path, width: rows, front: null };
}
