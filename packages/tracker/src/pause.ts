import { setImmediate } from "node:timers/promises";

/** Called between the steps of long work: lets the process hear of an abort, and rejects with its reason. */
export type Pause = () => Promise<void>;

export function pauseFor(signal: AbortSignal | undefined): Pause {
  return async () => {
    await setImmediate();
    signal?.throwIfAborted();
  };
}
