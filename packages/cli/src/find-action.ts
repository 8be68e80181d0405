import { join, relative } from "node:path";
import { findInTake, type TakeSearch, writeOutputs } from "@frontpace/take";
import { describeSearch } from "./describe-search.js";
import { drawSearch } from "./draw-search.js";
import type { FindArguments } from "./find-command.js";
import { findOptions } from "./find-options.js";
import { type RunContext, warn } from "./io.js";
import { outputFolder } from "./output-folder.js";
import { progressLine } from "./progress-line.js";

/** `frontpace find`: looks for events, writes the files, prints what was found.
 *  @returns whether anything was
 *  @throws CliError, TakeError, the frame loader's error; `signal.reason` when stopped */
export async function findAction(take: string, args: FindArguments, context: RunContext): Promise<boolean> {
  const { signal } = context;
  const options = findOptions(args);
  const out = await outputFolder(take, args.out);

  const progress = progressLine(context);
  let search: TakeSearch;
  try {
    search = await findInTake(take, options, { ...(signal && { signal }), onProgress: progress.update });
  } finally {
    progress.clear();
  }

  const { events } = search;
  const json = `${JSON.stringify(events, null, 2)}\n`;
  const files = { "events.json": json, "activity.svg": await drawSearch(search) };
  await writeOutputs(out, files, signal ? { signal } : {});

  for (const { code, message } of events.warnings) warn(context, `${code}: ${message}`);
  const shown = Object.keys(files).map((name) => relative(process.cwd(), join(out, name)));
  context.stdout.write(args.json ? json : describeSearch(search, shown));
  return events.events.length > 0;
}
