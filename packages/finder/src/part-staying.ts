import { type CellGrid, cellAt, withNeighbours } from "./cell-grid.js";
import { THRESHOLD } from "./find-changes.js";
import { findOnset } from "./find-onset.js";
import type { FrameReader } from "./frame-reader.js";
import { lastingBetween, pastMiddle } from "./lasting-levels.js";
import { inLightOf, lightOf } from "./light.js";
import { nameByCells } from "./name-by-cells.js";
import { changeStrength } from "./noise.js";
import type { PlacedEvent } from "./placed-event.js";

/** Frames in which it is looked how much has changed for good, evenly from the first to the last. */
const LOOKS = 17;
/** What stays is parted from the rest where it takes less than this part of the time. */
const SHORT = 0.5;
/** A shorter event is one. */
const SHORTEST = 64;
/** What fills most of the picture is taken for light where cells are compared: where that differs by more, cells do not tell. */
const MOST_LIGHT = 0.1;
/** This part of its values change once and for all; what passes may cover the others meanwhile. */
const MOST = 0.5;
/** So many at either end may have to do with what passes, where there are ten times as many. */
const STRAYS = 2;
/** Before it is half there in the first cell, and after in the last, its ends are looked for in so many frames and this part of the time between. */
const MARGIN = 8;
const MARGIN_PART = 1 / 8;

/** Parts what stays from what passes meanwhile in another part of the picture, as dust does that drifts by while a pane cracks: where all that changes
 *  for good does so in a short part of the time that the event takes.
 *  @returns the event alone where it is one */
export async function partStaying(reader: FrameReader, event: PlacedEvent): Promise<readonly PlacedEvent[]> {
  const { first, last, kind, noise } = event;
  const span = last - first;
  const { grid } = reader;
  if (kind !== "stays" || span < SHORTEST || fillsPicture(event, grid)) return [event];
  const lasting = lastingBetween(event.before, event.after, noise, reader);
  const looks = Array.from({ length: LOOKS }, (_, k) => Math.round(first + (k * span) / (LOOKS - 1)));
  const isPast = await pastMiddle(reader, lasting, looks);
  const once = lasting.changes.flatMap((_, value) => {
    const from = isPast.findIndex((are) => are[value]);
    return isPast.findLastIndex((are) => !are[value]) < from ? [from] : [];
  });
  if (once.length === 0 || once.length < MOST * lasting.changes.length) return [event];
  once.sort((a, b) => a - b);
  const strays = once.length < 10 * STRAYS ? 0 : STRAYS;
  const before = looks[once[strays] - 1] ?? Math.max(0, first - 1);
  const after = looks[once[once.length - 1 - strays] + 1] ?? last;
  if (after - before > SHORT * span) return [event];
  const half = await nameByCells(reader, { before, after, noise, lasting });
  if (!half) return [event];
  // The mean of the whole picture is of no cell.
  const ofCells = lasting.changes.filter(({ value }) => value < grid.size - 1);
  const own = withNeighbours(grid, new Set(ofCells.map(({ value }) => value % grid.cells)));
  const stays = await named(reader, event, half, own);
  const rest = await strengthBeside(reader, event, looks, own);
  return rest < THRESHOLD
    ? [stays]
    : [stays, { ...event, last: last - 1, kind: "passes", strength: rest, after: event.before }];
}

function fillsPicture({ before, after }: PlacedEvent, grid: CellGrid): boolean {
  const { base, byRow, byColumn } = lightOf(after, before, grid);
  return Math.abs(base + (byRow * grid.rows + byColumn * grid.columns) / 2 - 1) > MOST_LIGHT;
}

/** With the first and the last frame that show it in its own cells, where frames before and after it are quiet there.
 *  @param half  named by where it is half there */
async function named(
  reader: FrameReader,
  { first, last }: PlacedEvent,
  half: PlacedEvent,
  own: ReadonlySet<number>,
): Promise<PlacedEvent> {
  const { grid, count } = reader;
  const isWithin = (row: number, column: number) => own.has(cellAt(grid, row, column));
  const margin = Math.round(MARGIN + MARGIN_PART * (half.last - half.first));
  const before = Math.max(first - 1, half.first - margin);
  const after = Math.min(last, half.last + margin);
  const begins = await findOnset(reader, before, half.first, 1, false, isWithin);
  const ends = await findOnset(reader, after, half.last - 1, -1, false, isWithin);
  if (!begins || !ends || begins === "restless" || ends === "restless") return half;
  return {
    ...half,
    first: begins.place,
    last: Math.min(count - 1, ends.place + 1),
    // What passes may have come near it.
    certainty: "visible",
  };
}

/** The greatest change of some frames outside of some cells. */
async function strengthBeside(
  reader: FrameReader,
  { before, noise }: PlacedEvent,
  places: readonly number[],
  own: ReadonlySet<number>,
): Promise<number> {
  const { grid } = reader;
  let strength = 0;
  for await (const descriptor of reader.descriptors(places)) {
    const steady = inLightOf(descriptor, before, grid);
    const rest = steady.map((value, k) => (isOf(own, k, grid) ? before[k] : value));
    strength = Math.max(strength, changeStrength(before, rest, noise, grid));
  }
  return strength;
}

/** Whether a value of a descriptor is one of some cells, or of the whole picture. */
function isOf(cells: ReadonlySet<number>, value: number, { cells: all, size }: CellGrid): boolean {
  return value === size - 1 || cells.has(value % all);
}
