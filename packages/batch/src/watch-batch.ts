import { setTimeout as wait } from "node:timers/promises";
import type { MeasureOptions } from "@frontpace/take";
import { type FoundTake, findTakes } from "./find-takes.js";
import { type BatchContext, type BatchOptions, measureFound, searchOf } from "./run-batch.js";
import { stampWithOptions } from "./take-identity.js";
import type { TakeOutcome } from "./types.js";

/** ms; a take that is the same in two looks has stopped growing. */
const PAUSE = 3000;
/** A disk that is full, or a share that is away for a while: nothing is wrong with what was asked for. */
const PASSING = new Set(["not-a-folder", "unreadable-folder", "output-not-writable"]);
/** Looks until a take whose files could not be written is measured again: twice as many each time. */
const FEWEST_LOOKS = 5;
const MOST_LOOKS = 200;

/** What became of a take, and from what. */
interface Done {
  readonly stamp: string;
  readonly outcome: TakeOutcome;
  /** Where its files could not be written: the look from which on it is tried again, and after how many. */
  readonly again: { readonly from: number; readonly looks: number } | null;
}

/** Measures takes below a folder as they arrive, each once it has stopped growing, and again where it changes, a take.json above it or a file that is
 *  named there, until it is stopped. Folders are looked at from time to time: on a network no one tells of changes. A full disk or a folder
 *  that is away for a while does not end it: `onTrouble` is told, and it is tried again.
 *  @param onRound  called with what became of all takes that are there, in order of name, whenever that has changed
 *  @throws the frame loader's error where the folder cannot be listed to begin with; `signal.reason` when stopped */
export async function watchBatch(
  folder: string,
  options: BatchOptions,
  context: BatchContext,
  onRound: (outcomes: readonly TakeOutcome[]) => Promise<void>,
): Promise<never> {
  const { signal, onFound, onTrouble } = context;
  let seen = new Map<string, string>();
  const done = new Map<string, Done>();
  let isSummedUp = true;
  let trouble = "";
  const drawn = new Set<string>();
  const search = searchOf(options, {
    onDrawn: (name) => {
      if (!drawn.has(name)) context.onDrawn?.(name);
      drawn.add(name);
    },
  });
  await findTakes(folder, search);
  for (let look = 0; ; look++) {
    try {
      await lookOnce(look);
      trouble = "";
    } catch (error) {
      signal?.throwIfAborted();
      const { code, message } = error as { code?: string; message: string };
      if (!PASSING.has(code ?? "")) throw error;
      if (message !== trouble) onTrouble?.(message);
      trouble = message;
    }
    await wait(PAUSE, undefined, signal ? { signal } : {}).catch(() => signal?.throwIfAborted());
  }

  async function lookOnce(look: number): Promise<void> {
    const found = await findTakes(folder, search);
    const stamps = await stampsOf(folder, found, options.defaults ?? {});
    const isDone = ({ stamp, again }: Done, now: string | undefined) =>
      stamp === now && (again === null || look < again.from);
    const ready = found.filter(({ name }) => {
      const before = done.get(name);
      return seen.get(name) === stamps.get(name) && !(before && isDone(before, stamps.get(name)));
    });
    seen = stamps;
    const gone = [...done.keys()].filter((name) => !stamps.has(name));
    for (const name of gone) done.delete(name);
    if (ready.length > 0) {
      onFound?.(ready.map(({ name }) => name));
      for (const outcome of await measureFound(folder, ready, options, context)) {
        const { name, error } = outcome;
        const looks = Math.min(MOST_LOOKS, 2 * (done.get(name)?.again?.looks ?? FEWEST_LOOKS / 2));
        const again = error?.code === "output-not-writable" ? { from: look + looks, looks } : null;
        done.set(name, { stamp: stamps.get(name)!, outcome, again });
      }
    }
    if (ready.length > 0 || gone.length > 0) isSummedUp = false;
    if (isSummedUp) return;
    await onRound(found.flatMap(({ name }) => done.get(name)?.outcome ?? []));
    isSummedUp = true;
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
