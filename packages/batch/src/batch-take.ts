import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { resolve, sep } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { speedText } from "@frontpace/report/words";
import type { MeasureOptions, TakeResult } from "@frontpace/take";
import { pathOfTake } from "./find-takes.js";
import { footageSource } from "./footage-source.js";
import { filesOfTake, layeredOptions } from "./layered-options.js";
import { measureToFiles, outputNames } from "./measure-to-files.js";
import { lastChange, takeIdentity, takeStamp } from "./take-identity.js";
import { removeTake, resultOf, writeTake } from "./take-record.js";
import type {
  MeasuredOutcome,
  SharedSources,
  SummarisedResult,
  TakeFailure,
  TakeJob,
  TakeOutcome,
  TakeProgress,
} from "./types.js";

/** Errors that a take has while a camera is still writing it. */
const PASSING = new Set([
  "corrupt-frame",
  "changed-frame",
  "unreadable-frame",
  "mixed-frames",
  "ambiguous-sequence",
  "too-many-bad-frames",
  "no-frames",
]);
/** ms; what was last written longer ago than this is no longer being written. */
const SETTLED = 3000;
const PAUSE = 1000;
/** While it changes a take is tried again for so many times. */
const MOST_TRIES = 30;

/** Measures one take of a batch and writes its files, or finds them made from the same before. A take that changes meanwhile is measured
 *  again; one that fails leaves nothing of an earlier result behind.
 *  @returns what became of it; never throws */
export async function batchTake(
  job: TakeJob,
  onProgress: (progress: TakeProgress) => void,
): Promise<TakeOutcome> {
  const { folder, name, out } = job;
  const take = pathOfTake(folder, name);
  for (let time = 1; ; time++) {
    const before = await takeStamp(take).catch(() => "");
    let failure: TakeFailure;
    try {
      const outcome = await measuredOrKept(job, take, before, onProgress);
      if (outcome) return outcome;
      failure = {
        code: "still-growing",
        message: `${name} is still being written: run again when it is complete`,
      };
    } catch (error) {
      failure = failureOf(error, folder);
      if (!PASSING.has(failure.code) || !(await isChanging(take, before))) time = MOST_TRIES;
    }
    if (time >= MOST_TRIES) {
      await removeTake(out, outputNames).catch(() => {});
      return { name, result: null, error: failure, isNew: true, shared: null, footage: null };
    }
    onProgress({ stage: "waiting until it is complete", done: 0, total: 1 });
    await wait(PAUSE);
  }
}

/** @returns null where the take was written to while it was measured: nothing is kept then */
async function measuredOrKept(
  { folder, name, out, defaults, wanted }: TakeJob,
  take: string,
  before: string,
  onProgress: (progress: TakeProgress) => void,
): Promise<MeasuredOutcome | null> {
  const options = await layeredOptions(folder, name, defaults);
  const identity = await takeIdentity(take, options, wanted);
  const earlier = await resultOf(out, identity);
  const measured = earlier ? null : await measureToFiles(take, options, wanted, { onProgress });
  if (before !== (await takeStamp(take))) return null;
  if (measured) await writeTake(out, identity, measured);
  const result = earlier ?? measured!.result;
  const shared = await sharedSources(take, options, result);
  const footage = await footageSource(take);
  return { name, result: summarised(result), error: null, isNew: measured !== null, shared, footage };
}

/** Takes with the same numbers, uncertainties among them, are said to share them: so nothing is taken for independent that is not. */
async function sharedSources(
  take: string,
  options: MeasureOptions,
  result: TakeResult,
): Promise<SharedSources> {
  const { calibration, timestamps } = await filesOfTake(take, options);
  const { rateHz, rateUncertaintyHz, metresPerPixel, metresPerPixelUncertainty } = result.take;
  const usesFile = result.take.calibration !== undefined && calibration !== undefined;
  return {
    scale: usesFile ? await digestOf(calibration) : `${metresPerPixel} ${metresPerPixelUncertainty}`,
    rate: `${rateHz} ${rateUncertaintyHz}${timestamps === undefined ? "" : ` ${await digestOf(timestamps)}`}`,
  };
}

async function digestOf(file: string): Promise<string> {
  return createHash("sha256")
    .update(await readFile(file))
    .digest("hex");
}

function summarised(result: TakeResult): SummarisedResult {
  const { status, speed, lowerBound, notFound, front, take, warnings } = result;
  return {
    status,
    speed,
    lowerBound,
    notFound,
    measurand: front?.measurand ?? null,
    framesHash: take.framesHash,
    frames: front ? { first: front.firstFrame, last: front.lastFrame } : null,
    warnings,
    text: speedText(result),
  };
}

/** Whether it was written to a moment ago, or since. */
async function isChanging(take: string, before: string): Promise<boolean> {
  try {
    const age = Date.now() - (await lastChange(take));
    // By a clock ahead of this one: a while shows whether it grows.
    if (age < 0) await wait(SETTLED);
    return (age >= 0 && age < SETTLED) || before !== (await takeStamp(take));
  } catch {
    return false;
  }
}

/** Code and message of whatever was thrown, without the place of the folder on this machine. */
export function failureOf(error: unknown, folder: string): TakeFailure {
  const { code, message } = error as { code?: unknown; message?: unknown };
  const text = typeof message === "string" ? message : String(error);
  return {
    code: typeof code === "string" ? code : "fault",
    message: text.replaceAll(`${resolve(folder)}${sep}`, "").replaceAll(`${folder}${sep}`, ""),
  };
}
