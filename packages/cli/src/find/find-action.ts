import { isAbsolute, join, relative, resolve, sep } from "node:path";
import { drawSearch } from "@frontpace/batch";
import { findInTake, prepareCopy, writeOutputs } from "@frontpace/take";
import { CliError } from "../terminal/cli-error.js";
import { type RunContext, warn } from "../terminal/io.js";
import { outputFolder } from "../terminal/output-folder.js";
import { progressLine } from "../terminal/progress-line.js";
import { copyEvent, copyOptions } from "./copy-event.js";
import { describeSearch } from "./describe-search.js";
import type { FindArguments } from "./find-command.js";
import { findOptions } from "./find-options.js";

/** `frontpace find`: looks for events, writes the files, prints what was found.
 *  @returns whether anything was
 *  @throws CliError, TakeError, the frame loader's error; `signal.reason` when stopped */
export async function findAction(take: string, args: FindArguments, context: RunContext): Promise<boolean> {
  const { signal } = context;
  const options = findOptions(args);
  copyOptions(args);
  const out = await outputFolder(take, args.out);
  const { copy } = args;
  if (copy !== undefined) {
    await prepareCopy(copy);
    if (holdsFolder(copy, out))
      throw new CliError(
        "invalid-option",
        `--copy must name a folder that the results (--out) do not go into, got ${copy}: name another one`,
      );
  }

  const progress = progressLine(context);
  const work = { ...(signal && { signal }), onProgress: progress.update };
  const during = <T>(job: Promise<T>) => job.finally(progress.clear);
  const search = await during(findInTake(take, options, work));
  const { events } = search;
  const json = `${JSON.stringify(events, null, 2)}\n`;
  const files = { "events.json": json, "activity.svg": await drawSearch(search) };
  await writeOutputs(out, files, signal ? { signal } : {});
  for (const { code, message } of events.warnings) warn(context, `${code}: ${message}`);

  // What was found is kept even where copying fails.
  const copied =
    copy !== undefined && events.events.length > 0
      ? await during(copyEvent(take, { ...args, copy }, search, work))
      : null;
  const written = Object.keys(files).map((name) => relative(process.cwd(), join(out, name)));
  const shown = copied === null ? written : [...written, copied];
  if (args.json && copied !== null) context.stderr.write(`copied: ${copied}\n`);
  context.stdout.write(args.json ? json : describeSearch(search, shown, args.quiet));
  return events.events.length > 0;
}

/** Whether a folder is, or lies in, another. */
function holdsFolder(outer: string, inner: string): boolean {
  const way = relative(resolve(outer), resolve(inner));
  return way === "" || !(way === ".." || way.startsWith(`..${sep}`) || isAbsolute(way));
}
