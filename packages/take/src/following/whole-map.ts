import type { ArrivalMap, ArrivalSource } from "@frontpace/arrival";
import type { FrameRange } from "../settings/check-against-frames.js";
import { rowTimeFrames, type Settings } from "../settings/settle.js";
import { timeFramesOf } from "../settings/timestamps.js";
import type { MeasureContext } from "../types.js";

/** A map of the whole picture in the frames that are used. Its times are those of a table of times, where there is one, and of each row, where these
 *  are read in turn. */
export async function wholeMap(
  frames: ArrivalSource,
  settings: Settings,
  { start, end }: FrameRange,
  { signal, onProgress }: MeasureContext,
): Promise<ArrivalMap> {
  const { arrivalMap } = await import("@frontpace/arrival");
  const { cell, timestamps, rateHz } = settings;
  const timeOf = timestamps ? timeFramesOf(timestamps, rateHz.value) : (number: number) => number;
  const { rows, columns } = frames;
  const used: ArrivalSource = {
    rows,
    columns,
    numbers: frames.numbers.slice(start, end).map(timeOf),
    frames: (_, region, options) => frames.frames({ start, end }, region, options),
  };
  const map = await arrivalMap(used, {
    ...(cell !== null && { cell }),
    ...(signal && { signal }),
    ...(onProgress && { onProgress }),
  });
  return inTimeOfRows(map, rowTimeFrames(settings));
}

/** The row of a cell was read later than the first by as many row times. */
function inTimeOfRows(map: ArrivalMap, rowTime: number): ArrivalMap {
  if (rowTime === 0) return map;
  const { arrival, earliest, columns, rows, cell } = map;
  return {
    ...map,
    arrival: arrival.map((time, i) => time + rowTime * ((Math.floor(i / columns) + 0.5) * cell - 0.5)),
    earliest: earliest + rowTime * (rows * cell - 1),
  };
}
