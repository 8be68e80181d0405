import type { ArrivalMap } from "@frontpace/arrival";
import { finiteSamples } from "../footage/finite-samples.js";
import { frameSamples } from "../footage/frame-samples.js";
import type { FrameRange } from "../settings/check-against-frames.js";
import { bendsLengths, type Settings } from "../settings/settle.js";
import { timeFramesOf } from "../settings/timestamps.js";
import type { ArrivalPicture, MeasureContext, TakeFrames } from "../types.js";
import type { InPlane } from "./front-in-plane.js";
import { wholeMap } from "./whole-map.js";

/** Fewest frames of which a map can be made. */
const FEWEST_FRAMES = 7;

/** The arrival map that goes with a result: that by which the front was followed, or was found to be of no shape; any other one where it is asked for.
 *  @param inPlane  what was decided by a map, if one was made
 *  @returns `picture` null where there is none; `refused` says why where one was asked for */
export async function mapInPlane(
  frames: TakeFrames,
  settings: Settings,
  range: FrameRange,
  inPlane: InPlane | null,
  context: MeasureContext,
): Promise<{ readonly picture: ArrivalPicture | null; readonly refused: string | null }> {
  const none = { picture: null, refused: null };
  const decided = inPlane && (inPlane.along.kind !== "rows-or-columns" || inPlane.shape.shape === "none");
  if (!decided && !settings.map) return none;
  const refused = inPlane ? null : refusal(range);
  if (refused) return { picture: null, refused };
  const map = inPlane?.map ?? (await finiteSamples(wholeMap(frames, settings, range, context)));
  const shape = inPlane?.shape;
  const round = shape?.axes?.differ ? shape.axes : shape?.circle;
  const origin = shape?.shape === "circle" ? (round?.origin ?? null) : null;
  return { picture: await pictureOf(map, origin, frames, settings, range, context.signal), refused: null };
}

function refusal({ start, end }: FrameRange): string | null {
  if (end - start < FEWEST_FRAMES)
    return `it needs at least ${FEWEST_FRAMES} frames, and ${end - start} were used`;
  return null;
}

/** With the frame in which the front had arrived at half of the places. */
async function pictureOf(
  map: ArrivalMap,
  origin: ArrivalPicture["origin"],
  frames: TakeFrames,
  { rateHz, metresPerPixel, calibration, timestamps }: Settings,
  { start, end }: FrameRange,
  signal: AbortSignal | undefined,
): Promise<ArrivalPicture> {
  const times = map.arrival.filter((time) => !Number.isNaN(time)).sort();
  const timeOf = timestamps ? timeFramesOf(timestamps, rateHz.value) : (number: number) => number;
  const taken = frames.numbers.map((number, k) => (k < start || k >= end ? Number.NaN : timeOf(number)));
  const half = times.length > 0 ? times[times.length >> 1] : taken[(start + end) >> 1];
  let at = start;
  for (let k = start; k < end; k++) if (Math.abs(taken[k] - half) < Math.abs(taken[at] - half)) at = k;
  const [data] = await frameSamples(frames, at, at + 1, signal);
  return {
    map,
    rateHz: rateHz.value,
    metresPerPixel: bendsLengths(calibration) ? null : metresPerPixel.value,
    origin,
    still: { frame: frames.numbers[at], data, shape: [frames.rows, frames.columns] },
  };
}
