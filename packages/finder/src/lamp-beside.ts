import { findLamp } from "./find-lamp.js";
import type { FrameReader } from "./frame-reader.js";
import type { Lamp } from "./lamp.js";
import { median } from "./median.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Stretch } from "./scan-places.js";

/** Frames averaged where levels are compared. */
const AVERAGED = 4;
/** Samples before and behind the stretch that are looked at, too: a change so close to a greater one of the same value is not listed apart. */
const BESIDE = 16;
/** Where the light steps is narrowed down to so many frames. */
const NARROW = 16;
/** The light has stepped where most of the cells differ by so many noise levels of one of them, and by so many times what the brightness of the
 *  picture usually varies by over so many frames. */
const NOISE_LEVELS = 3;
const CLEARLY = 6;

/** A change of the light in a stretch of the take or close to it, before or behind the event that was named in it. The light is divided out where an event is
 *  named, so a lamp shows in that neither as an event nor as a part of one.
 *  @param event  null: none was named
 *  @param apart  usual distance of two samples, frames
 *  @param closer  as for `findLamp`
 *  @param levelNoise  how much the mean brightness of the picture varies over so many frames without an event
 *  @returns one that is not taken out yet; null where there is none */
export async function lampBeside(
  reader: FrameReader,
  { before, after, noise }: Stretch,
  event: Pick<PlacedEvent, "first" | "last"> | null,
  apart: number,
  closer: number,
  levelNoise: (frames: number) => number,
): Promise<Lamp | null> {
  const { grid, count } = reader;
  const reach = Math.ceil(BESIDE * apart);
  const [early, late] = [before - reach - AVERAGED + 1, after + reach];
  const sides = event
    ? [
        [early, event.first - AVERAGED],
        [event.last + 1, late],
      ]
    : [[early, late]];
  for (const [from, to] of sides) {
    const place = await whereItSteps(Math.max(0, from), Math.min(count - AVERAGED, to));
    const lamp = place && (await findLamp(reader, { ...place, noise }, closer));
    if (lamp) return lamp;
  }
  return null;

  /** @param from, to  first of the frames averaged */
  async function whereItSteps(from: number, to: number): Promise<{ first: number; last: number } | null> {
    if (from >= to) return null;
    const old = await levelsAt(from);
    const stepTo = async (at: number) => {
      const now = await levelsAt(at);
      return median(now.map((value, k) => value - old[k]));
    };
    const whole = await stepTo(to);
    const least = Math.max(
      NOISE_LEVELS * median(noise.subarray(0, grid.cells)),
      CLEARLY * levelNoise(to - from),
    );
    if (!(Math.abs(whole) > least)) return null;
    let [low, high] = [from, to];
    while (high - low > NARROW) {
      const middle = (low + high) >> 1;
      if ((await stepTo(middle)) / whole > 0.5) high = middle;
      else low = middle;
    }
    return { first: low, last: high + AVERAGED - 1 };
  }

  async function levelsAt(start: number): Promise<Float64Array> {
    return (await reader.meanDescriptor(start, start + AVERAGED)).subarray(0, grid.cells);
  }
}
