/** Waits for work that cannot itself be called off, but no longer than until `signal` aborts. The work then
 *  runs on unobserved: its outcome, good or bad, is dropped.
 *  @throws signal.reason once the signal has aborted */
export async function abortable<T>(work: Promise<T>, signal?: AbortSignal): Promise<T> {
  if (signal === undefined) return work;
  let onAbort = (): void => {};
  const aborted = new Promise<never>((_resolve, reject) => {
    onAbort = () => reject(signal.reason);
    if (signal.aborted) onAbort();
    else signal.addEventListener("abort", onAbort, { once: true });
  });
  try {
    return await Promise.race([aborted, work]);
  } finally {
    signal.removeEventListener("abort", onAbort);
  }
}
