import type { Progress } from "@frontpace/tracker";

const intervalMilliseconds = 100;

/** Passes a report on at most ten times a second; the first and last of a stage are always passed. */
export function throttleProgress(
  onProgress: (progress: Progress) => void,
  now: () => number = () => performance.now(),
): (progress: Progress) => void {
  let last = Number.NEGATIVE_INFINITY;
  let stage = "";
  return (progress) => {
    const time = now();
    const due =
      time - last >= intervalMilliseconds || progress.stage !== stage || progress.done >= progress.total;
    if (!due) return;
    last = time;
    stage = progress.stage;
    onProgress(progress);
  };
}
