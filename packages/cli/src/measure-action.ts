import { join, relative } from "node:path";
import {
  mapFiles,
  mapQuantities,
  measureTake,
  type TakeResult,
  tipsCsv,
  trackCsv,
  writeOutputs,
} from "@frontpace/take";
import { describeResult } from "./describe-result.js";
import { drawPictures } from "./draw-pictures.js";
import { drawReport } from "./draw-report.js";
import { type RunContext, warn } from "./io.js";
import type { MeasureArguments } from "./measure-command.js";
import { measureOptions } from "./measure-options.js";
import { outputFolder } from "./output-folder.js";
import { progressLine } from "./progress-line.js";

const outputNames = [
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
];

/** `frontpace measure`: measures, writes the files, prints the result.
 *  @throws CliError, TakeError, the frame loader's error; `signal.reason` when stopped */
export async function measureAction(
  take: string,
  args: MeasureArguments,
  context: RunContext,
): Promise<TakeResult["status"]> {
  const { signal } = context;
  const options = measureOptions(args);
  const out = await outputFolder(take, args.out);
  const hasPictures = args.pictures !== false;
  const hasReport = hasPictures && args.report !== false;

  const progress = progressLine(context);
  let measurement: Awaited<ReturnType<typeof measureTake>>;
  try {
    measurement = await measureTake(take, options, {
      ...(signal && { signal }),
      onProgress: progress.update,
      eventPictures: hasPictures,
    });
  } finally {
    progress.clear();
  }

  const { result, track, tips, arrival } = measurement;
  const quantities = arrival && (await mapQuantities(arrival));
  const json = `${JSON.stringify(result, null, 2)}\n`;
  const evidence = {
    "result.json": json,
    ...(result.status === "measured" && { "track.csv": trackCsv(track) }),
    ...(tips.length > 0 && { "tips.csv": tipsCsv(tips) }),
    ...(hasPictures && (await drawPictures(measurement, quantities))),
    ...(quantities && mapFiles(quantities)),
  };
  const files = {
    ...evidence,
    ...(hasReport && { "report.html": await drawReport(result, evidence) }),
  };
  const written = outputNames.filter((name) => name in files);
  const stale = outputNames.filter((name) => !(name in files));
  await writeOutputs(out, files, { ...(signal && { signal }), stale });

  // Why nothing was found is the answer itself.
  for (const { code, message } of result.warnings)
    if (code !== result.notFound?.reason) warn(context, `${code}: ${message}`);
  const shown = written.map((name) => relative(process.cwd(), join(out, name)));
  context.stdout.write(
    args.json
      ? json
      : describeResult(result, shown, {
          budget: args.budget ?? false,
          quiet: args.quiet ?? false,
        }),
  );
  return result.status;
}
