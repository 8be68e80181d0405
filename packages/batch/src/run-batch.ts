import { createRequire } from "node:module";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import type { MeasureOptions } from "@frontpace/take";
import { failureOf } from "./batch-take.js";
import { type FoundTake, findTakes, type SearchContext } from "./find-takes.js";
import type { FilesWanted } from "./measure-to-files.js";
import type { TakeJob, TakeOutcome, TakeProgress } from "./types.js";

/** What a batch is run with. */
export interface BatchOptions {
  /** Where the files go: those of a take into a folder of the take's name below it. */
  readonly out: string;
  /** For takes whose take.json, and those higher up, do not say. Default: none. */
  readonly defaults?: MeasureOptions;
  /** Default: pictures and report. */
  readonly wanted?: FilesWanted;
  /** Processes that measure at once. A whole number >= 1. Default: the processors there are. */
  readonly workers?: number;
}

/** What is told while a batch runs. */
export interface BatchContext {
  readonly signal?: AbortSignal;
  /** Called once, when it is known which takes there are. */
  readonly onFound?: (names: readonly string[]) => void;
  /** Called with the name of what could pass for a take but was drawn by this program; in a batch that goes on, once. */
  readonly onDrawn?: (name: string) => void;
  readonly onProgress?: (name: string, progress: TakeProgress) => void;
  readonly onOutcome?: (outcome: TakeOutcome) => void;
  /** What keeps a watched batch from going on for now, in words; once, however often it is tried again. */
  readonly onTrouble?: (message: string) => void;
}

/** Measures every take below a folder, several at once, each in a process of its own. One that fails stops no other.
 *  @returns what became of them, in order of name
 *  @throws the frame loader's error where the folder cannot be listed; `signal.reason` when stopped */
export async function runBatch(
  folder: string,
  options: BatchOptions,
  context: BatchContext = {},
): Promise<TakeOutcome[]> {
  context.signal?.throwIfAborted();
  const found = await findTakes(folder, searchOf(options, context));
  context.onFound?.(found.map(({ name }) => name));
  return measureFound(folder, found, options, context);
}

/** Where takes are looked for: not among the files of the batch. */
export function searchOf({ out }: BatchOptions, { onDrawn }: BatchContext): SearchContext {
  return { except: [out], ...(onDrawn && { onDrawn }) };
}

/** Measures takes that were found.
 *  @returns what became of them, in the order in which they are given
 *  @throws `signal.reason` when stopped */
export async function measureFound(
  folder: string,
  found: readonly FoundTake[],
  { out, defaults = {}, wanted = { pictures: true, report: true }, workers }: BatchOptions,
  { signal, onProgress, onOutcome }: BatchContext,
): Promise<TakeOutcome[]> {
  const { default: workerpool } = await import("workerpool");
  const pool = workerpool.pool(workerFile(), {
    workerType: "process",
    maxWorkers: workers ?? availableParallelism(),
  });
  const stop = () => void pool.terminate(true);
  signal?.addEventListener("abort", stop, { once: true });
  try {
    const outcomes = found.map(async ({ name, unreadable }) => {
      const outcome = unreadable === null ? await measured(name) : failed(name, unreadable);
      signal?.throwIfAborted();
      onOutcome?.(outcome);
      return outcome;
    });
    return await Promise.all(outcomes);
  } finally {
    signal?.removeEventListener("abort", stop);
    await pool.terminate(true);
  }

  async function measured(name: string): Promise<TakeOutcome> {
    const job: TakeJob = {
      folder,
      name,
      out: name === "." ? out : join(out, ...name.split("/")),
      defaults,
      wanted,
    };
    try {
      return await pool.exec("measure", [job], {
        on: (progress: TakeProgress) => onProgress?.(name, progress),
      });
    } catch {
      const message =
        "the process that measured it ended before it was done (out of memory, or ended from outside): run again, with fewer workers where memory is short";
      return failed(name, { code: "worker-ended", message });
    }
  }

  function failed(name: string, error: unknown): TakeOutcome {
    return { name, result: null, error: failureOf(error, folder), isNew: true, shared: null, footage: null };
  }
}

/** By name, not by place: the command is bundled. */
function workerFile(): string {
  return createRequire(import.meta.url).resolve("@frontpace/batch/worker");
}
