import { findLamp } from "./find-lamp.js";
import type { FrameReader } from "./frame-reader.js";
import type { Lamp } from "./lamp.js";
import { inLightOf } from "./light.js";
import { changeStrength } from "./noise.js";
import { partStaying } from "./part-staying.js";
import type { PlacedEvent } from "./placed-event.js";
import { refineAll } from "./refine-all.js";
import { samplePlaces } from "./sample-places.js";
import { type Scan, scanPlaces } from "./scan-places.js";

/** Samples of the whole take with which the search begins. */
const SAMPLES = 512;
/** What passes is looked for without being asked where that takes fewer frames than these. */
const CHEAP = 2048;
/** What a smooth light leaves of a lamp is there at once: as much of the whole change as this. */
const AT_ONCE = 0.7;
/** Frames averaged before and behind a lamp. */
const AVERAGED = 4;
/** What is left of a lamp may be taken for the end of an event that lies no more frames from it. */
const CLOSE_TO_LAMP = 10;

/** What a search found, by places of frames. */
export interface Search {
  /** Strongest first. */
  readonly events: readonly PlacedEvent[];
  /** In order of time. */
  readonly lamps: readonly Lamp[];
  /** Of the last scan. */
  readonly activity: Scan["activity"];
  /** As in `Scan`. */
  readonly cellNoise: number;
  readonly passingSought: boolean;
}

/** Looks for events; where one turns out to be the light that changes everywhere at once this is taken out of the frames, and the search
 *  is made again: what happens beside it is then found as in steady light.
 *  @param readerIn  reads frames with these changes of the light taken out */
export async function searchEvents(
  readerIn: (lamps: readonly Lamp[]) => FrameReader,
  options: { readonly shortestFrames: number; readonly thorough: boolean },
): Promise<Search> {
  const lamps: Lamp[] = [];
  for (;;) {
    const reader = readerIn([...lamps]);
    const found = await searchOnce(reader, options);
    if ("lamp" in found) lamps.push(found.lamp);
    else {
      const events: PlacedEvent[] = [];
      for (const event of found.events)
        if (!(await isRest(reader, event)))
          for (const part of await partStaying(reader, event)) events.push(lessSureByLamps(part, lamps));
      events.sort((a, b) => b.strength - a.strength);
      return { ...found, events, lamps: lamps.sort((a, b) => a.first - b.first) };
    }
  }
}

/** Places of the samples with which a search begins.
 *  @returns with the frames between two of them at most, and at most in a search for what passes, and their usual distance */
export function firstPlaces(
  count: number,
  shortestFrames: number,
): {
  readonly places: readonly number[];
  readonly far: number;
  readonly close: number;
  readonly apart: number;
} {
  const close = Math.max(1, Math.floor(shortestFrames / 2));
  const far = Math.max(1, Math.floor(count / SAMPLES));
  const apart = Math.max(1, far <= close ? far : count / SAMPLES);
  return { places: samplePlaces(count, apart, far <= close ? 0 : 0.5), far, close, apart };
}

/** @returns the first lamp that is found, or, where there is none, all else */
async function searchOnce(
  reader: FrameReader,
  { shortestFrames, thorough }: { readonly shortestFrames: number; readonly thorough: boolean },
): Promise<{ readonly lamp: Lamp } | Omit<Search, "lamps">> {
  const { count } = reader;
  const { places, far, close, apart } = firstPlaces(count, shortestFrames);
  const sparse = await scanPlaces(reader, places, apart, "sampling");
  const { events, lamp: first } = await refineAll(reader, sparse, apart, [], shortestFrames);
  const lamp = first ?? (await lampIn(events));
  if (lamp) return { lamp };
  const { activity, cellNoise } = sparse;
  if (far <= close) return { events, activity, cellNoise, passingSought: true };
  const stays = events.some(({ kind }) => kind === "stays");
  if (!thorough && count / close > CHEAP && stays)
    return { events, activity, cellNoise, passingSought: false };

  const scan = await scanPlaces(reader, samplePlaces(count, close, 0), close, "passing");
  const { events: all, lamp: next } = await refineAll(reader, scan, close, events, shortestFrames);
  const later = next ?? (await lampIn(all.filter((event) => !events.includes(event))));
  if (later) return { lamp: later };
  return {
    events: all,
    activity: scan.activity,
    cellNoise: Math.max(cellNoise, scan.cellNoise),
    passingSought: true,
  };

  async function lampIn(some: readonly PlacedEvent[]): Promise<Lamp | null> {
    for (const event of some) {
      const lamp = await findLamp(reader, event, shortestFrames);
      if (lamp) return lamp;
    }
    return null;
  }
}

function lessSureByLamps(event: PlacedEvent, lamps: readonly Lamp[]): PlacedEvent {
  const isClose = (place: number) =>
    lamps.some(({ first, last }) => place >= first - CLOSE_TO_LAMP && place <= last + CLOSE_TO_LAMP);
  const isUnsure = event.certainty === "refined" && (isClose(event.first) || isClose(event.last));
  return isUnsure ? { ...event, certainty: "visible" } : event;
}

/** Whether all of an event that a lamp falls into happens with the lamp: that is what a smooth light does not explain of it. */
async function isRest(reader: FrameReader, event: PlacedEvent): Promise<boolean> {
  const { grid, count, lamps } = reader;
  for (const { first, last, strength } of lamps) {
    if (event.first > last + 1 || event.last < first - 1 || event.strength > strength) continue;
    const before = await reader.meanDescriptor(Math.max(0, first - AVERAGED), first);
    const after = await reader.meanDescriptor(last, Math.min(count, last + AVERAGED));
    const steady = inLightOf(after, before, grid);
    if (changeStrength(before, steady, event.noise, grid) > AT_ONCE * event.strength) return true;
  }
  return false;
}
