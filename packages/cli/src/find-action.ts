import { join, relative } from "node:path";
import { findInTake, prepareCopy, type TakeSearch, writeOutputs } from "@frontpace/take";
import { copyEvent, copyOptions } from "./copy-event.js";
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
  copyOptions(args);
  const out = await outputFolder(take, args.out);
  const { copy } = args;
  if (copy !== undefined) await prepareCopy(copy);

  const progress = progressLine(context);
  const work = { ...(signal && { signal }), onProgress: progress.update };
  let search: TakeSearch;
  let copied: string | null = null;
  try {
    search = await findInTake(take, options, work);
    if (copy !== undefined && search.events.events.length > 0)
      copied = await copyEvent(take, { ...args, copy }, search, work);
  } finally {
    progress.clear();
  }

  const { events } = search;
  const json = `${JSON.stringify(events, null, 2)}\n`;
  const files = { "events.json": json, "activity.svg": await drawSearch(search) };
  await writeOutputs(out, files, signal ? { signal } : {});

  for (const { code, message } of events.warnings) warn(context, `${code}: ${message}`);
  const written = Object.keys(files).map((name) => relative(process.cwd(), join(out, name)));
  const shown = copied === null ? written : [...written, copied];
  context.stdout.write(args.json ? json : describeSearch(search, shown));
  return events.events.length > 0;
}
