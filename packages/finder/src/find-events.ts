import { cellGrid } from "./cell-grid.js";
import { checkOptions } from "./checked-options.js";
import { THRESHOLD } from "./find-changes.js";
import { frameReader } from "./frame-reader.js";
import type { Lamp } from "./lamp.js";
import type { Scan } from "./scan-places.js";
import { firstPlaces, searchEvents } from "./search-events.js";
import type { EventSource, FindOptions, FindResult, FrameRegion } from "./types.js";
import { writtenPlaces } from "./written-places.js";

const MOST_ACTIVITY = 2048;
/** Eight frames without motion at either end of the take, and one between them: in fewer even what is strong may be missed. */
const FEWEST_TELLING = 17;

/** Where in a take something happens. Frames far apart first: what stays is seen there, and its beginning and end found by
 *  halving. What passes needs a frame in every half of `shortestFrames` and is looked for where that is cheap (2048 frames), where nothing
 *  that stays was found, or where `thorough` asks for it. Light that changes everywhere at once and stays is no event: it is listed apart. Nor
 *  is a counter that is written into the frames: its place is listed and left out.
 *  @throws RangeError for options that do not fit the take; with the code `samples-not-finite` for samples that are no numbers; rejects with the
 *  reason of `signal`, and as `read` does */
export async function findEvents(source: EventSource, options: FindOptions = {}): Promise<FindResult> {
  const { first, count, region, shortestFrames, thorough } = checkOptions(source, options);
  const grid = cellGrid(region.rows, region.columns);
  const { signal, onProgress } = options;
  signal?.throwIfAborted();
  const seen = new Set<number>();
  const readerWithout = (written: readonly FrameRegion[], lamps: readonly Lamp[]) =>
    frameReader(
      source,
      { first, count, region, grid, lamps, written, seen },
      { ...(signal && { signal }), ...(onProgress && { onProgress }) },
    );
  const { places } = firstPlaces(count, shortestFrames);
  const written = await writtenPlaces(readerWithout([], []), places);
  const search = await searchEvents((lamps) => readerWithout(written, lamps), { shortestFrames, thorough });
  const numberOf = (place: number) => source.numbers[first + place];
  const { events, lamps, cellNoise, passingSought } = search;
  const side = (edges: readonly number[]) =>
    2 * Math.max(...edges.slice(1).map((edge, i) => edge - edges[i]));
  return {
    frames: count,
    framesRead: seen.size,
    shortestFrames,
    passingSought,
    weakestSeen:
      cellNoise > 0 && count >= FEWEST_TELLING
        ? {
            strength: THRESHOLD,
            brightness: 1.5 * THRESHOLD * cellNoise,
            rows: Math.min(region.rows, side(grid.rowEdges)),
            columns: Math.min(region.columns, side(grid.columnEdges)),
          }
        : null,
    events: events.map(({ first, last, kind, strength, certainty }) => ({
      firstFrame: numberOf(first),
      lastFrame: numberOf(last),
      kind,
      strength,
      certainty,
    })),
    lightChanges: lamps.map(({ first, last, factor }) => ({
      firstFrame: numberOf(first),
      lastFrame: numberOf(last),
      factor,
    })),
    written: written.map(({ row, column, rows, columns }) => ({
      row: region.row + row,
      column: region.column + column,
      rows,
      columns,
    })),
    activity: thinned(search.activity).map(({ place, strength }) => ({ frame: numberOf(place), strength })),
  };
}

/** Of neighbouring samples the strongest, so that few enough are left. */
function thinned(activity: Scan["activity"]): Scan["activity"] {
  const each = Math.ceil(activity.length / MOST_ACTIVITY);
  const kept: Scan["activity"] = [];
  for (let i = 0; i < activity.length; i += each)
    kept.push(activity.slice(i, i + each).reduce((a, b) => (b.strength > a.strength ? b : a)));
  return kept;
}
