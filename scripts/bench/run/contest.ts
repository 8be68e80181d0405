import { median } from "@frontpace/fit";
import type { Contestant } from "./contestants.js";
import { type Run, timedRun } from "./timed.js";

/** What each contestant took in every round, by name. */
export type Rounds = Readonly<Record<string, readonly Run[]>>;

/** Runs contestants in turn (A B A B …), so that whatever else the machine does meets all of them, after one round that
 *  is not counted.
 *  @param uncounted  rounds before those that count. Default: one.
 *  @param pixelsPerFrame  the true speed; who measures one must come to it within 1 %
 *  @throws Error where one fails, or measures another speed */
export async function contest(
  contestants: Readonly<Record<string, Contestant>>,
  rounds: number,
  pixelsPerFrame: number,
  { uncounted = 1 }: { readonly uncounted?: number } = {},
): Promise<Rounds> {
  const runs: Record<string, Run[]> = {};
  for (let round = 0; round < uncounted + rounds; round++) {
    for (const [name, contestant] of Object.entries(contestants)) {
      await contestant.prepare?.();
      const run = await timedRun(contestant);
      const speed = contestant.speedOf?.(run.output) ?? pixelsPerFrame;
      if (!(Math.abs(speed / pixelsPerFrame - 1) < 0.01))
        throw new Error(`${name} gave ${speed} px a frame, the true speed is ${pixelsPerFrame}`);
      runs[name] ??= [];
      if (round >= uncounted) runs[name].push(run);
    }
  }
  return runs;
}

export function medianSeconds(runs: readonly Run[]): number {
  return median(runs.map(({ seconds }) => seconds));
}

/** Time of one over that of another, the median over the rounds: each round compares neighbours in time. */
export function timeRatio(runs: readonly Run[], others: readonly Run[]): number {
  return median(runs.map(({ seconds }, round) => seconds / others[round].seconds));
}

/** The contestant that took less, by the medians. */
export function faster(a: readonly Run[], b: readonly Run[]): readonly Run[] {
  return medianSeconds(a) <= medianSeconds(b) ? a : b;
}

/** Largest peak memory of all rounds, bytes.
 *  @throws Error where none was reported */
export function peakBytes(runs: readonly Run[]): number {
  const peaks = runs.flatMap((run) => (run.peakBytes === null ? [] : [run.peakBytes]));
  if (peaks.length === 0) throw new Error("no run reported its peak memory: /proc/self/status is needed");
  return Math.max(...peaks);
}
