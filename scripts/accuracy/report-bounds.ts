import type { CrossingTrial } from "./try-crossing.js";

const LEAST_SHARE = 0.95;
const LEAST_MEDIAN = 0.5;

/** Prints what became of takes whose front crosses the path within a few frames, and whether their bounds hold.
 *  @returns the number of bars missed; without a single bound, both */
export function reportBounds(
  trials: readonly CrossingTrial[],
  print: (line: string) => void = console.log,
): number {
  print(
    "| takes | all | measured | hold the truth | bounded | at most the truth | median of what the frames allow | not found |",
  );
  print("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
  const kinds: readonly [string, (trial: CrossingTrial) => boolean][] = [
    ["all", () => true],
    ["path given", ({ pathGiven }) => pathGiven],
    ["path found", ({ pathGiven }) => !pathGiven],
    ["exposure stated", ({ exposureStated }) => exposureStated],
    ["exposure unknown", ({ exposureStated }) => !exposureStated],
  ];
  for (const [name, belongs] of kinds) {
    const some = trials.filter(belongs);
    const measured = some.filter(({ status }) => status === "measured");
    const { count, share, median } = boundsOf(some);
    const lost = some.filter(({ status }) => status === "not-found").length;
    print(
      `| ${name} | ${some.length} | ${measured.length} | ${percent(measured.filter(({ holds }) => holds).length / measured.length)} | ${count} | ${percent(share)} | ${median.toFixed(3)} | ${lost} |`,
    );
  }
  const reasons = new Map<string, number>();
  for (const { reason } of trials) if (reason !== "") reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
  if (reasons.size > 0)
    print(`\nnot found: ${[...reasons].map(([reason, n]) => `${n} ${reason}`).join(", ")}`);

  const { share, median } = boundsOf(trials);
  const bars = [
    { met: share >= LEAST_SHARE, line: `bounds at most the truth: ${percent(share)}, wanted >= 95 %` },
    {
      met: median >= LEAST_MEDIAN,
      line: `median bound / what the frames allow: ${median.toFixed(3)}, wanted >= 0.5`,
    },
  ];
  print("");
  for (const { met, line } of bars) print(`${met ? "met" : "MISSED"}: ${line}`);
  return bars.filter(({ met }) => !met).length;
}

function boundsOf(trials: readonly CrossingTrial[]): { count: number; share: number; median: number } {
  const bounded = trials.filter(({ status }) => status === "bounded");
  const ratios = bounded.map(({ boundToAllowed }) => boundToAllowed).sort((a, b) => a - b);
  const [low, high] = [Math.floor((ratios.length - 1) / 2), Math.ceil((ratios.length - 1) / 2)];
  return {
    count: bounded.length,
    share: bounded.filter(({ boundToTruth }) => boundToTruth <= 1).length / bounded.length,
    median: ratios.length === 0 ? Number.NaN : (ratios[low] + ratios[high]) / 2,
  };
}

function percent(share: number): string {
  return Number.isNaN(share) ? "-" : `${(100 * share).toFixed(1)} %`;
}
