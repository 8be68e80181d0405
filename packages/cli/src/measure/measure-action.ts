import { join, relative } from "node:path";
import { type MeasuredFiles, measureToFiles } from "@frontpace/batch";
import { type TakeResult, writeOutputs } from "@frontpace/take";
import { type RunContext, warn } from "../terminal/io.js";
import { outputFolder } from "../terminal/output-folder.js";
import { progressLine } from "../terminal/progress-line.js";
import { describeResult } from "./describe-result.js";
import type { MeasureArguments } from "./measure-command.js";
import { measureOptions } from "./measure-options.js";

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
  const wanted = { pictures: args.pictures !== false, report: args.report !== false };

  const progress = progressLine(context);
  let measured: MeasuredFiles;
  try {
    measured = await measureToFiles(take, options, wanted, {
      ...(signal && { signal }),
      onProgress: progress.update,
    });
  } finally {
    progress.clear();
  }
  const { result, files, stale } = measured;
  await writeOutputs(out, files, { ...(signal && { signal }), stale });

  // Why nothing was found is the answer itself.
  for (const { code, message } of result.warnings)
    if (code !== result.notFound?.reason) warn(context, `${code}: ${message}`);
  const shown = Object.keys(files).map((name) => relative(process.cwd(), join(out, name)));
  context.stdout.write(
    args.json
      ? String(files["result.json"])
      : describeResult(result, shown, {
          budget: args.budget ?? false,
          quiet: args.quiet ?? false,
        }),
  );
  return result.status;
}
