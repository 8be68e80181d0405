import type { FrameReader } from "./frame-reader.js";
import { greatestSteps, stepsOf } from "./frame-steps.js";
import type { Lamp } from "./lamp.js";
import { lampInFrames } from "./lamp-in-frames.js";
import type { PlacedEvent } from "./placed-event.js";

const MOST_LAMPS = 8;
/** Frames beside an event that are looked at with it. */
const BESIDE = 16;
/** A slow step that goes on there is followed by so many frames more, and by twice as many again. */
const MOST_MORE = 64;
/** So many frames are read in order; of more, so many far apart first, then those between the two that differ most. */
const IN_ORDER = 160;
const FAR_APART = 64;

/** A change of the light everywhere at once within an event, or beside it: the cells of the picture step together, as a smooth light makes
 *  them, and stay.
 *  @param closer  frames within which a light that is taken back is an event that passes
 *  @returns one that is not taken out yet; null where there is none, or there are eight already */
export async function findLamp(
  reader: FrameReader,
  event: Pick<PlacedEvent, "first" | "last" | "noise">,
  closer: number,
): Promise<Lamp | null> {
  const { grid, count, lamps } = reader;
  if (lamps.length >= MOST_LAMPS) return null;
  const start = Math.max(0, event.first - BESIDE);
  const end = Math.min(count - 1, event.last + BESIDE);
  for (const [from, to] of await whereItSteps(start, end)) {
    const lamp = await lampBetween(from, to);
    if (lamp) return lamp;
  }
  return null;

  /** @param more  frames that are added on either side where a step goes on there */
  async function lampBetween(from: number, to: number, more = BESIDE): Promise<Lamp | null> {
    // Every frame: between frames farther apart a fast front would cross the whole picture.
    const frames = await framesAt(placesFrom(from, to, 1));
    const found = lampInFrames(frames, { grid, noise: event.noise, closer });
    if (found === null) return null;
    const [earlier, later] = [Math.max(0, from - more), Math.min(count - 1, to + more)];
    const goesOn = (found.isCutBefore && earlier < from) || (found.isCutBehind && later > to);
    if (goesOn && more <= MOST_MORE) return lampBetween(earlier, later, 2 * more);
    if (!found.lamp) return null;
    const lamp = { ...found.lamp, first: from + found.lamp.first, last: from + found.lamp.last };
    return lamps.some(({ first, last }) => lamp.first <= last + 1 && lamp.last >= first - 1) ? null : lamp;
  }

  async function framesAt(places: readonly number[]): Promise<Float64Array[]> {
    const frames: Float64Array[] = [];
    for await (const frame of reader.descriptors(places)) frames.push(frame);
    return frames;
  }

  /** Stretches of the event, short enough to be read in order. */
  async function whereItSteps(from: number, to: number): Promise<(readonly [number, number])[]> {
    if (to - from <= IN_ORDER) return [[from, to]];
    const places = placesFrom(from, to, (to - from) / FAR_APART);
    const stretches: (readonly [number, number])[] = [];
    for (const at of greatestSteps(stepsOf(await framesAt(places), grid)))
      stretches.push(
        ...(await whereItSteps(Math.max(start, places[at - 1] - BESIDE), Math.min(end, places[at] + BESIDE))),
      );
    return stretches;
  }
}

/** Both ends and places between them, evenly apart. */
function placesFrom(from: number, to: number, apart: number): number[] {
  const places: number[] = [];
  for (let place = from; place < to; place += apart) places.push(Math.round(place));
  places.push(to);
  return places;
}
