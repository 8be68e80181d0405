import { setTimeout as wait } from "node:timers/promises";
import type { MeasureOptions } from "@frontpace/take";
import { type FoundTake, findTakes } from "./find-takes.js";
import { type BatchContext, type BatchOptions, measureFound } from "./run-batch.js";
import { stampWithOptions } from "./take-identity.js";
import type { TakeOutcome } from "./types.js";

/** ms; a take that is the same in two looks has stopped growing. */
const PAUSE = 3000;

/** Measures takes below a folder as they arrive, each once it has stopped growing, and again where it changes, a take.json above it or a file that is
 *  named there, until it is stopped. Folders are looked at from time to time: on a network no one tells of changes.
 *  @param onRound  called with what became of all takes that are there, in order of name, whenever that has changed
 *  @throws `signal.reason` when stopped */
export async function watchBatch(
  folder: string,
  options: BatchOptions,
  context: BatchContext,
  onRound: (outcomes: readonly TakeOutcome[]) => Promise<void>,
): Promise<never> {
  const { signal, onFound } = context;
  let seen = new Map<string, string>();
  const done = new Map<string, { readonly stamp: string; readonly outcome: TakeOutcome }>();
  for (;;) {
    const found = await findTakes(folder, [options.out]);
    const stamps = await stampsOf(folder, found, options.defaults ?? {});
    const isReady = ({ name }: FoundTake) =>
      seen.get(name) === stamps.get(name) && done.get(name)?.stamp !== stamps.get(name);
    const ready = found.filter(isReady);
    const gone = [...done.keys()].filter((name) => !stamps.has(name));
    for (const name of gone) done.delete(name);
    if (ready.length > 0) {
      onFound?.(ready.map(({ name }) => name));
      const outcomes = await measureFound(folder, ready, options, context);
      for (const outcome of outcomes) done.set(outcome.name, { stamp: stamps.get(outcome.name)!, outcome });
    }
    if (ready.length > 0 || gone.length > 0)
      await onRound(found.flatMap(({ name }) => done.get(name)?.outcome ?? []));
    seen = stamps;
    await wait(PAUSE, undefined, signal ? { signal } : {}).catch(() => signal?.throwIfAborted());
  }
}

async function stampsOf(
  folder: string,
  found: readonly FoundTake[],
  defaults: MeasureOptions,
): Promise<Map<string, string>> {
  const stamps = new Map<string, string>();
  for (const { name, unreadable } of found) {
    const stamp =
      unreadable === null ? await stampWithOptions(folder, name, defaults).catch(() => "") : "unreadable";
    stamps.set(name, stamp);
  }
  return stamps;
}
