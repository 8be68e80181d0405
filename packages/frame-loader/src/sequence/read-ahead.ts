import { abortable } from "./abortable.js";

/** What {@link readAhead} is to load, and how far ahead. */
export interface ReadAheadPlan<T> {
  /** First index. */
  readonly start: number;
  /** Index behind the last one. */
  readonly end: number;
  /** Loads under way at the same time, >= 1. */
  readonly depth: number;
  readonly load: (index: number) => Promise<T>;
  readonly signal?: AbortSignal | undefined;
}

/** Loads items ahead of their use and gives them in order. Nothing new is started once the consumer leaves
 *  the loop, an item fails or the signal aborts.
 *  @throws the error of the first item in order that fails, or signal.reason */
export async function* readAhead<T>(plan: ReadAheadPlan<T>): AsyncGenerator<T, void, undefined> {
  const { start, end, depth, load, signal } = plan;
  const pending: Promise<T>[] = [];
  let next = start;
  const fill = (): void => {
    while (next < end && pending.length < depth) {
      const item = load(next);
      // An item nobody waits for any more may still fail.
      item.catch(() => {});
      pending.push(item);
      next += 1;
    }
  };
  signal?.throwIfAborted();
  fill();
  while (pending.length > 0) {
    const item = await abortable(pending[0], signal);
    pending.shift();
    fill();
    yield item;
    signal?.throwIfAborted();
  }
}
