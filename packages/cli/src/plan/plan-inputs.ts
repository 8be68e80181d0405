import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import {
  crackSpeedsIn,
  findMaterial,
  modesOfHeight,
  type PlanRequest,
  type RecordingMode,
  readModes,
} from "@frontpace/planner";
import { earlierTake, type PlanSubject, readResult, unreadableReason } from "@frontpace/take";
import { cautions } from "../terminal/cautions.js";
import { CliError } from "../terminal/cli-error.js";
import { resultFile } from "../terminal/result-file.js";
import type { PlanArguments } from "./plan-command.js";
import { parseRows, planOptions } from "./plan-options.js";

/** The modes to be looked at and what is wanted of them: options, the list of modes, and where they are named an earlier result and
 *  a material. An option wins over the earlier result.
 *  @throws CliError, PlannerError, TakeError */
export async function planInputs(
  args: PlanArguments & { readonly modes: string },
): Promise<{ readonly modes: readonly RecordingMode[]; readonly subject: PlanSubject }> {
  const options = planOptions(args);
  const modes = await modesOf(args);
  const earlier = await earlierOf(args.earlier);
  const cracks = args.material === undefined ? null : crackSpeedsIn(findMaterial(args.material));
  const speedMetresPerSecond = cracks
    ? { low: cracks.low, high: cracks.high }
    : options.speedMetresPerSecond!;
  const request: PlanRequest = { ...earlier, ...options, speedMetresPerSecond };
  const material = cracks && { name: args.material!, sources: cracks.sources };
  return { modes, subject: { take: args.take ?? null, material, request, cautions } };
}

/** What an earlier take gives a plan: nothing where none is named. */
async function earlierOf(named: string | undefined): Promise<Partial<PlanRequest>> {
  return named === undefined ? {} : earlierTake(await readResult(await resultFile(named)));
}

/** The listed modes, and those between listed heights that `--rows` asks for. */
async function modesOf({
  modes: file,
  rows,
}: {
  readonly modes: string;
  readonly rows?: string;
}): Promise<RecordingMode[]> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch (error) {
    throw new CliError(
      "modes-unreadable",
      `--modes: ${file} cannot be read (${unreadableReason(error)}): name the list of the camera's modes`,
    );
  }
  const listed = readModes(text, basename(file));
  const heights = rows === undefined ? [] : parseRows(rows);
  const between = heights.flatMap((height) => modesOfHeight(listed, height));
  return [...listed, ...between.filter(({ interpolation }) => interpolation !== null)];
}
