import { readdir } from "node:fs/promises";
import { dirname, join, relative, resolve } from "node:path";
import { drawOverlays, SEQUENCE_NAME } from "@frontpace/batch";
import { prepareOutput, readResult, readTips, writeOutputs } from "@frontpace/take";
import { footageOf } from "../terminal/footage-of-result.js";
import { type RunContext, warn } from "../terminal/io.js";
import { refuseTake } from "../terminal/output-folder.js";
import { progressLine } from "../terminal/progress-line.js";
import { resultFile } from "../terminal/result-file.js";
import type { OverlayArguments } from "./overlay-command.js";
import { overlayOptions } from "./overlay-options.js";

/** `frontpace overlay`: draws over the frames of a result's event, writes the files, says what was left out.
 *  @throws CliError, TakeError, the frame loader's error; `signal.reason` when stopped */
export async function overlayAction(
  named: string,
  args: OverlayArguments,
  context: RunContext,
): Promise<void> {
  const { signal } = context;
  const file = await resultFile(named, { "--out": args.out, "--take": args.take });
  const wish = overlayOptions(args);
  const result = await readResult(file);
  const tips = await readTips(join(dirname(file), "tips.csv"));
  const needsFootage = wish.kinds.some((kind) => kind !== "png");
  const footage = needsFootage ? (args.take ?? (await footageOf(dirname(file), result.take.name))) : null;
  const out = relative(process.cwd(), resolve(args.out ?? dirname(file))) || ".";
  const sequenceFolder = join(out, "overlay");
  if (footage !== null) refuseTake(out, footage, args.out);
  await prepareOutput(out);

  const progress = progressLine(context);
  const work = { ...(signal && { signal }), onProgress: progress.update };
  const { sequence, clips, notes } = await drawOverlays(result, tips, wish, footage, work).finally(
    progress.clear,
  );
  const names = Object.keys(sequence);
  if (names.length > 0) {
    const earlier = await readdir(sequenceFolder).catch(() => []);
    const stale = earlier.filter((name) => SEQUENCE_NAME.test(name) && !(name in sequence));
    await writeOutputs(sequenceFolder, sequence, { stale, ...(signal && { signal }) });
  }
  await writeOutputs(out, clips, signal ? { signal } : {});

  for (const { code, message } of notes) warn(context, `${code}: ${message}`);
  const written = [
    ...(names.length > 0
      ? [`${join(sequenceFolder, names[0])} to ${names[names.length - 1]} (${names.length} files)`]
      : []),
    ...Object.keys(clips).map((name) => join(out, name)),
  ].map((path) => `  ${path}\n`);
  const caution = needsFootage
    ? "\nPeople and premises may be visible in the pictures: look at them before you pass them on.\n"
    : "";
  context.stdout.write(`written:\n${written.join("")}${args.quiet ? "" : caution}`);
}
