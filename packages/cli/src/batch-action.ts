import { join, relative } from "node:path";
import { amongOthers, assembleSummary, runBatch, summaryCsv, type TakeOutcome } from "@frontpace/batch";
import { caution } from "@frontpace/report/words";
import { removeLeftovers, writeOutputs } from "@frontpace/take";
import type { BatchArguments } from "./batch-command.js";
import { batchProgress } from "./batch-progress.js";
import { describeCounts } from "./describe-counts.js";
import { exitCodes } from "./exit-code.js";
import type { RunContext } from "./io.js";
import { measureOptions } from "./measure-options.js";
import { parseCount } from "./option-parsers.js";
import { outputFolder } from "./output-folder.js";

/** `frontpace batch`: measures the takes below a folder, writes the files and the summary, prints a line for each take and one for all.
 *  @returns the exit code
 *  @throws CliError, TakeError, the frame loader's error; `signal.reason` when stopped */
export async function batchAction(
  folder: string,
  args: BatchArguments,
  context: RunContext,
): Promise<number> {
  const { signal } = context;
  const defaults = measureOptions(args);
  const workers = args.workers === undefined ? null : parseCount("--workers", args.workers, "2");
  const out = await amongOthers(() => outputFolder(folder, args.out));
  const wanted = { pictures: args.pictures !== false, report: args.report !== false };

  const progress = batchProgress(context, args.json ?? false);
  let outcomes: readonly TakeOutcome[];
  try {
    outcomes = await runBatch(
      folder,
      { out, defaults, wanted, ...(workers !== null && { workers }) },
      { ...(signal && { signal }), ...progress.context },
    );
  } finally {
    progress.clear();
  }
  const summary = assembleSummary(outcomes);
  const json = `${JSON.stringify(summary, null, 2)}\n`;
  const files = { "summary.json": json, "summary.csv": summaryCsv(summary) };
  await removeLeftovers(out);
  await amongOthers(() => writeOutputs(out, files, signal ? { signal } : {}));

  if (args.json) context.stdout.write(json);
  else {
    const shown = Object.keys(files).map((name) => `  ${relative(process.cwd(), join(out, name))}\n`);
    const said = args.quiet ? "" : `${caution}\n\n`;
    context.stdout.write(`\nwritten:\n${shown.join("")}\n${said}${describeCounts(summary.counts)}\n`);
  }
  const { takes, measured, failed } = summary.counts;
  if (failed > 0) return exitCodes.fault;
  return measured === takes && takes > 0 ? exitCodes.measured : exitCodes.notMeasured;
}
