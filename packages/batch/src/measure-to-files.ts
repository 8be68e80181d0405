import {
  type MeasureContext,
  type MeasureOptions,
  mapFiles,
  mapQuantities,
  measureTake,
  type TakeResult,
  tipsCsv,
  trackCsv,
} from "@frontpace/take";
import { drawPictures } from "./draw-pictures.js";
import { drawReport } from "./draw-report.js";

/** Names of all files that a measurement may leave. */
export const outputNames = [
  "report.html",
  "result.json",
  "track.csv",
  "tips.csv",
  "search.svg",
  "cracks.png",
  "isochrones.png",
  "speed-map.png",
  "speed-rose.svg",
  "streak.png",
  "fit.svg",
  "frame-before.png",
  "frame-middle.png",
  "frame-after.png",
  "streak-samples.png",
  "arrival-time.npy",
  "arrival-time-uncertainty.npy",
  "local-speed.npy",
  "local-speed-uncertainty.npy",
  "local-direction.npy",
] as const;

/** What is left of a measurement beside its result. */
export interface FilesWanted {
  readonly pictures: boolean;
  /** The page that shows the pictures: not without them. */
  readonly report: boolean;
}

export interface MeasuredFiles {
  readonly result: TakeResult;
  /** Contents by name, the result among them. */
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  /** Names of files that an earlier measurement may have left and this one does not have. */
  readonly stale: readonly string[];
}

/** Measures a take and makes the files of its result; nothing is written. The same take and options give the same bytes.
 *  @param take  a folder of stills or a file of frames
 *  @throws TakeError, the frame loader's error; `signal.reason` when stopped */
export async function measureToFiles(
  take: string,
  options: MeasureOptions,
  wanted: FilesWanted,
  context: Omit<MeasureContext, "eventPictures"> = {},
): Promise<MeasuredFiles> {
  const measurement = await measureTake(take, options, { ...context, eventPictures: wanted.pictures });
  const { result, track, tips, arrival } = measurement;
  const quantities = arrival && (await mapQuantities(arrival));
  const evidence = {
    "result.json": `${JSON.stringify(result, null, 2)}\n`,
    ...(result.status === "measured" && { "track.csv": trackCsv(track) }),
    ...(tips.length > 0 && { "tips.csv": tipsCsv(tips) }),
    ...(wanted.pictures && (await drawPictures(measurement, quantities))),
    ...(quantities && mapFiles(quantities)),
  };
  const hasReport = wanted.pictures && wanted.report;
  const made: Record<string, string | Uint8Array> = {
    ...evidence,
    ...(hasReport && { "report.html": await drawReport(result, evidence) }),
  };
  const isMade = (name: string) => name in made;
  const files = Object.fromEntries(outputNames.filter(isMade).map((name) => [name, made[name]]));
  return { result, files, stale: outputNames.filter((name) => !isMade(name)) };
}
