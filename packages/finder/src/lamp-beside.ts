import { findLamp } from "./find-lamp.js";
import type { FrameReader } from "./frame-reader.js";
import type { Lamp } from "./lamp.js";
import { levelNoise } from "./level-noise.js";
import { median } from "./median.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Scan, Stretch } from "./scan-places.js";

/** Frames averaged where levels are compared. */
const AVERAGED = 4;
/** Samples before and behind the stretch that are looked at, too: a change so close to a greater one of the same value is not listed apart. */
const BESIDE = 16;
/** Where the light steps is narrowed down to so many frames. */
const NARROW = 16;
/** The light may have stepped between two samples where the brightness of the picture differs by so many times what it usually does from one to
 *  the next, and most of the cells by so many noise levels of one of them. */
const CLEARLY = 6;
const NOISE_LEVELS = 3;

/** A change of the light in a stretch of the take or close to it, before or behind the event that was named in it. The light is divided out where an event is
 *  named, so a lamp shows in that neither as an event nor as a part of one.
 *  @param event  null: none was named
 *  @param levels  of the scan
 *  @param apart  usual distance of two samples, frames
 *  @param closer  as for `findLamp`
 *  @returns one that is not taken out yet; null where there is none */
export async function lampBeside(
  reader: FrameReader,
  stretch: Stretch,
  event: Pick<PlacedEvent, "first" | "last"> | null,
  {
    levels,
    apart,
    closer,
  }: { readonly levels: Scan["levels"]; readonly apart: number; readonly closer: number },
): Promise<Lamp | null> {
  const { grid, count } = reader;
  const { before, after, noise } = stretch;
  const reach = Math.ceil(BESIDE * apart);
  const [early, late] = [before - reach, after + reach];
  const usual = levelNoise(levels, apart, stretch, apart);
  const sides = event
    ? [
        [early, event.first - AVERAGED],
        [event.last + 1, late],
      ]
    : [[early, late]];
  for (const [from, to] of sides) {
    const stretchOfStep = await whereLevelSteps(Math.max(0, from), Math.min(count - AVERAGED, to));
    const place = stretchOfStep && (await whereCellsStep(...stretchOfStep));
    const lamp = place && (await findLamp(reader, { ...place, noise }, closer));
    if (lamp) return lamp;
  }
  return null;

  /** The two neighbouring samples, or the end of the side and the sample next to it, of which the brightness differs most; null where that is
   *  no more than usual. */
  async function whereLevelSteps(from: number, to: number): Promise<readonly [number, number] | null> {
    if (from >= to) return null;
    const levelAt = async (place: number) => ({ place, level: (await meanAt(place))[grid.size - 1] });
    const within = levels.filter(({ place }) => place > from && place < to);
    const points = [await levelAt(from), ...within, await levelAt(to)];
    const steps = points.slice(1).map(({ level }, i) => Math.abs(level - points[i].level));
    const greatest = steps.indexOf(Math.max(...steps));
    if (!(steps[greatest] > CLEARLY * usual)) return null;
    return [points[greatest].place, points[greatest + 1].place];
  }

  /** @param sampleBefore, sampleBehind  places between which the light may step */
  async function whereCellsStep(
    sampleBefore: number,
    sampleBehind: number,
  ): Promise<{ first: number; last: number } | null> {
    let low = Math.max(0, sampleBefore - AVERAGED + 1);
    let high = Math.min(count - AVERAGED, sampleBehind);
    const old = await meanAt(low);
    const stepTo = async (at: number) => {
      const now = await meanAt(at);
      return median(now.subarray(0, grid.cells).map((value, k) => value - old[k]));
    };
    const whole = await stepTo(high);
    if (!(Math.abs(whole) > NOISE_LEVELS * median(noise.subarray(0, grid.cells)))) return null;
    while (high - low > NARROW) {
      const middle = (low + high) >> 1;
      if ((await stepTo(middle)) / whole > 0.5) high = middle;
      else low = middle;
    }
    return { first: low, last: high + AVERAGED - 1 };
  }

  /** Mean descriptor of a few frames from this one on. */
  function meanAt(start: number): Promise<Float64Array> {
    return reader.meanDescriptor(start, start + AVERAGED);
  }
}
