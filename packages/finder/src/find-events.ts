import { cellGrid } from "./cell-grid.js";
import { checkOptions } from "./checked-options.js";
import { THRESHOLD } from "./find-changes.js";
import { type FrameReader, frameReader } from "./frame-reader.js";
import { joinEvents } from "./join-events.js";
import { median } from "./median.js";
import { nameRestless } from "./name-restless.js";
import type { PlacedEvent } from "./placed-event.js";
import { refineStretch } from "./refine-stretch.js";
import { samplePlaces } from "./sample-places.js";
import { joinStretches, type Scan, type Stretch, scanPlaces } from "./scan-places.js";
import type { EventSource, FindOptions, FindResult, FoundEvent } from "./types.js";

/** Samples of the whole take with which the search begins. */
const SAMPLES = 512;
/** What passes is looked for without being asked where that takes fewer frames than these. */
const CHEAP = 2048;
const MOST_EVENTS = 16;
const MOST_ACTIVITY = 2048;

/** Where in a take something happens. Frames far apart first: what stays is seen there, and its beginning and end found by
 *  halving. What passes needs a frame in every half of `shortestFrames` and is looked for where that is cheap (2048 frames), where nothing
 *  that stays was found, or where `thorough` asks for it.
 *  @throws RangeError for options that do not fit the take; with the code `samples-not-finite` for samples that are no numbers; rejects with the
 *  reason of `signal`, and as `read` does */
export async function findEvents(source: EventSource, options: FindOptions = {}): Promise<FindResult> {
  const { first, count, region, shortestFrames, thorough } = checkOptions(source, options);
  const grid = cellGrid(region.rows, region.columns);
  const { signal, onProgress } = options;
  signal?.throwIfAborted();
  const reader = frameReader(
    source,
    { first, count, region, grid },
    { ...(signal && { signal }), ...(onProgress && { onProgress }) },
  );
  const close = Math.max(1, Math.floor(shortestFrames / 2));
  const far = Math.max(1, Math.floor(count / SAMPLES));

  const apart = Math.max(1, far <= close ? far : count / SAMPLES);
  const sparse = await scanPlaces(
    reader,
    samplePlaces(count, apart, far <= close ? 0 : 0.5),
    apart,
    "sampling",
  );
  let scan: Scan = sparse;
  let events = await refineAll(reader, sparse, apart, [], shortestFrames);
  let passingSought = far <= close;
  if (
    !passingSought &&
    (thorough || count / close <= CHEAP || !events.some(({ kind }) => kind === "stays"))
  ) {
    scan = await scanPlaces(reader, samplePlaces(count, close, 0), close, "passing");
    events = await refineAll(reader, scan, close, events, shortestFrames);
    passingSought = true;
  }

  const named = events.map(
    (event): FoundEvent => ({
      firstFrame: reader.number(event.first),
      lastFrame: reader.number(event.last),
      kind: event.kind,
      strength: event.strength,
    }),
  );
  const cellNoise = Math.max(sparse.cellNoise, scan.cellNoise);
  const side = (edges: readonly number[]) =>
    2 * Math.max(...edges.slice(1).map((edge, i) => edge - edges[i]));
  return {
    frames: count,
    framesRead: reader.framesRead(),
    shortestFrames,
    passingSought,
    weakestSeen:
      cellNoise > 0
        ? {
            strength: THRESHOLD,
            brightness: 1.5 * THRESHOLD * cellNoise,
            rows: Math.min(region.rows, side(grid.rowEdges)),
            columns: Math.min(region.columns, side(grid.columnEdges)),
          }
        : null,
    events: named,
    activity: thinned(scan.activity).map(({ place, strength }) => ({
      frame: reader.number(place),
      strength,
    })),
  };
}

/** Events of a scan with those known already, strongest first; what reaches into a known one is that one. */
async function refineAll(
  reader: FrameReader,
  scan: Scan,
  apart: number,
  known: readonly PlacedEvent[],
  shortestFrames: number,
): Promise<PlacedEvent[]> {
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
    const event = isRestless ? "restless" : await refineStretch(reader, stretch, levelNoise);
    if (event === "restless" && scan.told && !isRestless) {
      // No frames are quiet: what lasts and what stands out is looked at instead of all that moves.
      isRestless = true;
      stretches = strongest(scan.told);
      events.splice(known.length);
      done = -1;
      continue;
    }
    const named = event === "restless" ? await nameRestless(reader, stretch) : event;
    if (named) events.push(named);
  }
  if (stretches.length) reader.report("refining", stretches.length, stretches.length);
  return joinEvents(events, shortestFrames, grid)
    .sort((a, b) => b.strength - a.strength)
    .slice(0, MOST_EVENTS);

  function levelNoise(frames: number): number {
    const { levels } = scan;
    const lag = Math.max(1, Math.min(Math.floor(levels.length / 4), Math.ceil(frames / apart)));
    const differences = levels.slice(lag).map((level, i) => Math.abs(level - levels[i]));
    return differences.length ? 1.4826 * median(differences) : 0;
  }
}

/** Of neighbouring samples the strongest, so that few enough are left. */
function thinned(activity: Scan["activity"]): Scan["activity"] {
  const each = Math.ceil(activity.length / MOST_ACTIVITY);
  const kept: Scan["activity"] = [];
  for (let i = 0; i < activity.length; i += each)
    kept.push(activity.slice(i, i + each).reduce((a, b) => (b.strength > a.strength ? b : a)));
  return kept;
}
