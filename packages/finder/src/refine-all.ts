import { findLamp } from "./find-lamp.js";
import type { FrameReader } from "./frame-reader.js";
import { joinEvents } from "./join-events.js";
import type { Lamp } from "./lamp.js";
import { lampBeside } from "./lamp-beside.js";
import { levelNoise } from "./level-noise.js";
import { nameRestless } from "./name-restless.js";
import type { PlacedEvent } from "./placed-event.js";
import { refineStretch } from "./refine-stretch.js";
import { joinStretches, type Scan, type Stretch } from "./scan-places.js";

const MOST_EVENTS = 16;

/** What takes up more of a take than this is no event, but what moves all the time. */
const MOST_OF_TAKE = 0.75;

function isMost(event: PlacedEvent | null, frames: number): boolean {
  return event !== null && event.last - event.first > MOST_OF_TAKE * frames;
}

/** Events of a scan with those known already, strongest first; what reaches into a known one is that one.
 *  @returns also the change of the light that was found beside an event, or where single frames tell no ends: taken out, they may */
export async function refineAll(
  reader: FrameReader,
  scan: Scan,
  apart: number,
  known: readonly PlacedEvent[],
  shortestFrames: number,
): Promise<{ readonly events: PlacedEvent[]; readonly lamp: Lamp | null }> {
  const { grid } = reader;
  const strongest = (all: readonly Stretch[]) =>
    joinStretches(all, shortestFrames)
      .filter(({ before, after }) => !known.some(({ first, last }) => before <= last && after >= first))
      .sort((a, b) => b.size - a.size)
      .slice(0, MOST_EVENTS);
  let stretches = strongest(scan.stretches);
  let isRestless = false;
  const events = [...known];
  for (let done = 0; done < stretches.length; done++) {
    reader.report("refining", done, stretches.length);
    const stretch = stretches[done];
    const levelNoiseOver = (frames: number) => levelNoise(scan.levels, apart, stretch, frames);
    const event = isRestless ? "restless" : await refineStretch(reader, stretch, levelNoiseOver);
    const tellsNoFrames = event === "restless" ? scan.told && !isRestless : event?.certainty === "bisected";
    if (tellsNoFrames) {
      const { before, after, noise } = stretch;
      const lamp = await findLamp(reader, { first: before, last: after, noise }, shortestFrames);
      if (lamp) return { events, lamp };
    }
    if ((event === "restless" || isMost(event, reader.count)) && scan.told && !isRestless) {
      // No frames are quiet: what lasts and what stands out is looked at instead of all that moves.
      isRestless = true;
      stretches = strongest(scan.told);
      events.splice(known.length);
      done = -1;
      continue;
    }
    const named = event === "restless" ? await nameRestless(reader, stretch) : event;
    const lamp = await lampBeside(reader, stretch, named, {
      levels: scan.levels,
      apart,
      closer: shortestFrames,
    });
    if (lamp) return { events, lamp };
    if (named) events.push(named);
  }
  if (stretches.length) reader.report("refining", stretches.length, stretches.length);
  const joined = joinEvents(events, shortestFrames, grid).sort((a, b) => b.strength - a.strength);
  return { events: joined.slice(0, MOST_EVENTS), lamp: null };
}
