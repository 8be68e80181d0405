import { stat } from "node:fs/promises";
import { isAbsolute, join, relative, sep } from "node:path";
import {
  amongOthers,
  assembleSummary,
  type BatchSummary,
  findTakes,
  runBatch,
  type TakeOutcome,
  watchBatch,
  writeSummary,
} from "@frontpace/batch";
import { caution } from "@frontpace/report/words";
import { parseCount } from "../arguments/option-parsers.js";
import { measureOptions } from "../measure/measure-options.js";
import { CliError } from "../terminal/cli-error.js";
import { exitCodes } from "../terminal/exit-code.js";
import { inOneLine } from "../terminal/in-one-line.js";
import { type RunContext, warn } from "../terminal/io.js";
import { amongFramesError, outputFolder } from "../terminal/output-folder.js";
import type { BatchArguments } from "./batch-command.js";
import { batchProgress } from "./batch-progress.js";
import { describeCounts } from "./describe-counts.js";

/** `frontpace batch`: measures the takes below a folder, writes the files and the summary, prints a line for each take and one for all.
 *  @returns the exit code
 *  @throws CliError, TakeError, the frame loader's error; `signal.reason` when stopped */
export async function batchAction(
  folder: string,
  args: BatchArguments,
  context: RunContext,
): Promise<number> {
  const { signal } = context;
  if (args.watch && args.json)
    throw new CliError(
      "invalid-option",
      "--json prints one object at the end, and --watch has none: leave one out",
    );
  const defaults = measureOptions(args);
  const workers = args.workers === undefined ? null : parseCount("--workers", args.workers, "2");
  const out = await amongOthers(() => outputFolder(folder, args.out));
  await refuseFile(folder);
  await refuseTakes(folder, out, args.out);
  const wanted = { pictures: args.pictures !== false, report: args.report !== false };
  const options = { out, defaults, wanted, ...(workers !== null && { workers }) };
  const progress = batchProgress(context, args.json ?? false);
  const onDrawn = (name: string) =>
    warn(context, `${inOneLine(name)} was drawn by frontpace, so it is no take: left out`);
  const batch = { ...(signal && { signal }), onDrawn, ...progress.context };

  const summarise = async (outcomes: readonly TakeOutcome[]): Promise<BatchSummary> => {
    const summary = assembleSummary(outcomes);
    const names = await writeSummary(out, summary, signal);
    const shown = names.map((name) => `  ${relative(process.cwd(), join(out, name))}\n`).join("");
    for (const { take, sameEventAs } of summary.takes)
      if (sameEventAs !== null)
        warn(
          context,
          `${inOneLine(take)} shows frames of the same event as ${inOneLine(sameEventAs)}: it is measured, and not counted in the mean`,
        );
    const said = args.quiet ? "" : `${caution}\n\n`;
    context.stdout.write(
      args.json
        ? `${JSON.stringify(summary, null, 2)}\n`
        : `\nwritten:\n${shown}\n${said}${describeCounts(summary.counts)}\n`,
    );
    return summary;
  };
  try {
    if (args.watch) {
      const onTrouble = (message: string) => warn(context, `${message}; it is tried again`);
      await watchBatch(folder, options, { ...batch, onTrouble }, async (outcomes) => {
        progress.clear();
        await summarise(outcomes);
      });
    }
    const { takes, measured, failed } = (await summarise(await runBatch(folder, options, batch))).counts;
    if (takes === 0)
      warn(
        context,
        `no take was found below ${folder}: a take is a folder of at least two numbered stills, or a file of frames`,
      );
    if (failed > 0) return exitCodes.fault;
    return measured === takes && takes > 0 ? exitCodes.measured : exitCodes.notMeasured;
  } finally {
    progress.clear();
  }
}

/** One take, or none, where the folder of several is wanted; what is there and cannot be looked at is left to the search. */
async function refuseFile(folder: string): Promise<void> {
  const found = await stat(folder).catch(({ code }) => (code === "ENOENT" ? null : undefined));
  if (found === undefined || found?.isDirectory()) return;
  const what = found
    ? `is a file: give the folder that holds the takes, or measure it alone with frontpace measure ${folder}`
    : "does not exist: give the folder that holds the takes";
  throw new CliError("not-a-folder", `${folder} ${what}`);
}

/** A folder for the files that is one of the takes itself, or holds some of them, would be left out of them, without a word. What a batch has written there
 *  before is no take. */
async function refuseTakes(folder: string, out: string, named: string | undefined): Promise<void> {
  const inside = relative(folder, out);
  const found = (await findTakes(out).catch(() => [])).filter(({ unreadable }) => unreadable === null);
  if (found.some(({ name }) => name === ".")) throw amongFramesError(out, named);
  const [first] = found;
  if (!first || inside === ".." || inside.startsWith(`..${sep}`) || isAbsolute(inside)) return;
  if (await stat(join(out, "summary.json")).catch(() => null)) return;
  throw new CliError(
    "output-is-take",
    `--out must not hold takes of the batch, got "${named ?? out}": "${first.name}" in it would not be measured. Give a folder of its own`,
  );
}
