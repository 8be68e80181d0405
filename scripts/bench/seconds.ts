import { medianSeconds } from "./run/contest.js";
import type { Run } from "./run/timed.js";

/** Median times by name, as text. */
export function seconds(runs: Readonly<Record<string, readonly Run[]>>): string {
  return Object.entries(runs)
    .map(([name, some]) => `${name} ${medianSeconds(some).toFixed(2)} s`)
    .join(", ");
}
