import type { FrameRange } from "../settings/check-against-frames.js";
import type { Settings } from "../settings/settle.js";
import { type SearchSettings, shortestFrames } from "../settings/settle-search.js";
import type { MeasureContext, TakeFrames, TakeSearch } from "../types.js";
import { eventRange } from "./event-range.js";
import { nothingFound } from "./nothing-found.js";
import { searchFrames } from "./search-frames.js";
import { takeSearch } from "./take-search.js";

/** Takes with more frames are searched first. */
const LONGEST_UNSEARCHED = 2000;
/** Frames times positions along the paths that are tried: what a streak holds in memory goes with it. */
const MOST_SAMPLES = 2 ** 23;

/** Which frames are measured, and the search that chose them. */
export interface ChosenFrames {
  readonly range: FrameRange;
  /** null: the take is short, or its frames were chosen by the user */
  readonly search: TakeSearch | null;
  /** Why none can be measured; null: they can. */
  readonly notFound: { readonly reason: "no-event" | "event-too-long"; readonly message: string } | null;
}

/** Chooses the frames of a take that are measured: all of a short take or of a part that was asked for, of a long one those
 *  about its strongest event.
 *  @param range  the part that was asked for
 *  @throws as `searchFrames` does */
export async function chooseFrames(
  frames: TakeFrames,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<ChosenFrames> {
  const { firstFrame, lastFrame, rateHz, path, width, frameStep } = settings;
  const isChosen = firstFrame !== null || lastFrame !== null;
  if (isChosen || frames.numbers.length <= LONGEST_UNSEARCHED) return { range, search: null, notFound: null };
  const wanted: SearchSettings = {
    rateHz: rateHz.value,
    path: path ?? null,
    width: path ? width : null,
    region: null,
    firstFrame: null,
    lastFrame: null,
    shortestFrames: shortestFrames(rateHz.value, frameStep ?? 1),
    thorough: false,
  };
  const found = await searchFrames(frames, wanted, context);
  const search = takeSearch(found, frames, wanted, frameStep);
  const [strongest] = found.events;
  if (!strongest) return { range, search, notFound: nothingFound(found) };

  const about = eventRange(frames.numbers, strongest);
  const positions = path
    ? Math.hypot(path[1][0] - path[0][0], path[1][1] - path[0][1]) + 1
    : frames.rows + frames.columns;
  const most = Math.floor(MOST_SAMPLES / positions);
  const count = about.end - about.start;
  if (count <= most) return { range: about, search, notFound: null };
  const message = `the strongest event lasts from frame ${strongest.firstFrame} to frame ${strongest.lastFrame}: with its surroundings ${count} frames, more than the ${most} that are measured at once unasked: give the frames (--frames, firstFrame and lastFrame), or export every n-th`;
  return { range, search, notFound: { reason: "event-too-long", message } };
}
