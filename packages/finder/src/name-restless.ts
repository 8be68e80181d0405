import type { FrameReader } from "./frame-reader.js";
import { lastingBetween } from "./lasting-levels.js";
import { nameByCells } from "./name-by-cells.js";
import { nameBySamples } from "./name-by-samples.js";
import type { PlacedEvent } from "./placed-event.js";
import type { Stretch } from "./scan-places.js";

/** Frames averaged where descriptors are compared. */
const AVERAGED = 8;

/** Names the ends of an event that no quiet frames surround: by the values that change for good where there are any, by the samples
 *  that show it otherwise.
 *  @returns null where neither tells it from what else moves */
export async function nameRestless(reader: FrameReader, stretch: Stretch): Promise<PlacedEvent | null> {
  if (stretch.lasting) return nameByCells(reader, { ...stretch, lasting: stretch.lasting });
  if (stretch.amidRestless) return nameBySamples(reader, stretch);
  const { count } = reader;
  const before = await reader.meanDescriptor(Math.max(0, stretch.before - AVERAGED + 1), stretch.before + 1);
  const after = await reader.meanDescriptor(stretch.after, Math.min(count, stretch.after + AVERAGED));
  const lasting = lastingBetween(before, after, stretch.noise, reader);
  // Between key frames of a clip a value may change for good by itself: what passes meanwhile is still there.
  const byCells = lasting.changes.length > 0 ? await nameByCells(reader, { ...stretch, lasting }) : null;
  return byCells ?? nameBySamples(reader, stretch);
}
