import type { FrameRange } from "../settings/check-against-frames.js";
import type { Settings } from "../settings/settle.js";
import { type SearchSettings, shortestFrames } from "../settings/settle-search.js";
import type { MeasureContext, TakeFrames, TakeSearch } from "../types.js";
import { eventRange, FEWEST_BESIDE } from "./event-range.js";
import { nothingFound } from "./nothing-found.js";
import { searchFrames } from "./search-frames.js";
import { takeSearch } from "./take-search.js";

/** Takes with more frames are searched first. */
const LONGEST_UNSEARCHED = 2000;
/** What a shorter one shows nothing of as a whole is looked for about its strongest event, where that leaves out more than this part of it. */
const WORTH_LEAVING_OUT = 1 / 2;
/** Frames times positions along the paths that are tried: what a streak holds in memory goes with it. */
const MOST_SAMPLES = 2 ** 23;

/** Which frames are measured, and the search that chose them. */
export interface ChosenFrames {
  readonly range: FrameRange;
  /** null: all frames are measured, or those that the user chose */
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
  return isChosen(settings) || frames.numbers.length <= LONGEST_UNSEARCHED
    ? { range, search: null, notFound: null }
    : aboutStrongest(frames, settings, range, context);
}

/** Of a take that showed no front as a whole, the frames about its strongest event: before and after them levels may decay, or something else come.
 *  @param before  all that was measured
 *  @returns null where it was searched before, the user chose the frames, or most of it would be measured again
 *  @throws as `searchFrames` does */
export async function chooseFewer(
  frames: TakeFrames,
  settings: Settings,
  before: ChosenFrames,
  context: MeasureContext,
): Promise<ChosenFrames | null> {
  if (before.search || isChosen(settings)) return null;
  const count = before.range.end - before.range.start;
  const isWorthwhile = (frames: number) => frames < (1 - WORTH_LEAVING_OUT) * count;
  if (!isWorthwhile(2 * FEWEST_BESIDE + 1)) return null;
  const chosen = await aboutStrongest(frames, settings, before.range, context);
  const { range, notFound } = chosen;
  return notFound === null && isWorthwhile(range.end - range.start) ? chosen : null;
}

function isChosen({ firstFrame, lastFrame }: Settings): boolean {
  return firstFrame !== null || lastFrame !== null;
}

async function aboutStrongest(
  frames: TakeFrames,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<ChosenFrames> {
  const { rateHz, path, width, frameStep } = settings;
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
