import { median } from "@frontpace/fit";
import type { Trial } from "./try-take.js";

/** One run of the trials. */
export interface Run {
  readonly name: string;
  /** Takes drawn from everything. */
  readonly mixed: readonly Trial[];
  /** Takes with white noise only. */
  readonly white: readonly Trial[];
  /** Takes in which nothing moves. */
  readonly still: readonly Trial[];
}

interface Bar {
  readonly what: string;
  readonly wanted: string;
  readonly seen: string;
  readonly met: boolean;
  /** What a run too short to judge the bar would need; null where it is judged. */
  readonly needs: string | null;
}

/** Takes of a full run, drawn from everything. In a full run every bar is judged. */
export const FULL_RUN = 2600;
/** Takes in which nothing moves, of a full run. */
export const FULL_STILL = 500;
/** Measured takes from which on the share that holds the truth is judged. */
const LEAST_MEASURED = 2000;
/** A cell with fewer measured takes than this is printed but not judged. */
const SMALLEST_CELL = 200;

/** Prints the tables of the runs, side by side, and returns the number of bars missed. A bar that a short run
 *  cannot judge is not missed; what it would need is printed. */
export function reportRuns(runs: readonly Run[]): number {
  for (const { name, mixed, white, still } of runs)
    console.log(
      `${name}: ${mixed.length} takes, ${white.length} with white noise only, ${still.length} still`,
    );
  const measured = runs.map(({ mixed }) => mixed.filter(isMeasured));
  row(
    "cell",
    runs.flatMap(({ name }) => [`measured, ${name}`, "hold the truth", "median half-width / bound's"]),
  );
  row(
    "---",
    runs.flatMap(() => ["---:", "---:", "---:"]),
  );
  for (const [cell, belongs] of cells())
    row(
      cell,
      measured.flatMap((trials) => {
        const inCell = trials.filter(belongs);
        const ratio = median(inCell.map(widthRatio)).toFixed(2);
        return inCell.length
          ? [String(inCell.length), percent(share(inCell, covered)), ratio]
          : ["0", "", ""];
      }),
    );
  console.log("");
  const bars = runs.map(barsOf);
  row("bar", ["wanted", ...runs.map(({ name }) => name)]);
  row("---", ["---:", ...runs.map(() => "---:")]);
  bars[0].forEach(({ what, wanted }, k) => {
    row(what, [wanted, ...bars.map((of) => `${of[k].seen}${verdict(of[k])}`)]);
  });
  for (const { name, mixed } of runs) console.log(`\noutcomes, ${name}: ${outcomesOf(mixed)}`);
  return bars.flat().filter(({ met, needs }) => !met && needs === null).length;
}

function verdict({ met, needs }: Bar): string {
  if (needs !== null) return `, not judged: needs ${needs}`;
  return met ? "" : " MISSED";
}

function barsOf({ mixed, white, still }: Run): Bar[] {
  const measured = mixed.filter(isMeasured);
  const coverage = share(measured, covered);
  const judged = cells()
    .map(([cell, belongs]) => ({ cell, trials: measured.filter(belongs) }))
    .filter(({ trials }) => trials.length >= SMALLEST_CELL)
    .map(({ cell, trials }) => ({ cell, held: share(trials, covered) }));
  const worst = judged.reduce((a, b) => (b.held < a.held ? b : a), { cell: "none so large", held: 1 });
  const ratio = median(measured.map(widthRatio));
  const squares = white.reduce((sum, t) => sum + t.positionSquares, 0);
  const positions = white.reduce((sum, t) => sum + t.positionCount, 0);
  const perFrame = Math.sqrt(squares / positions);
  const sharp = white.filter((t) => t.boundFit < 0.01);
  const found = share(sharp, isMeasured);
  const alarms = still.filter((t) => t.status !== "not-found").length;
  const full = mixed.length >= FULL_RUN;
  const needs = (what: string, enough: boolean) => (full || enough ? null : what);
  return [
    {
      what: "takes measured",
      wanted: `>= ${LEAST_MEASURED}`,
      seen: String(measured.length),
      met: measured.length >= LEAST_MEASURED,
      needs: needs(`a run of ${FULL_RUN} takes`, measured.length >= LEAST_MEASURED),
    },
    {
      what: "hold the truth",
      wanted: "93.5-97 %",
      seen: percent(coverage),
      met: coverage >= 0.935 && coverage <= 0.97,
      needs: needs(`${LEAST_MEASURED} measured takes`, measured.length >= LEAST_MEASURED),
    },
    {
      what: `worst cell of ${SMALLEST_CELL} takes or more`,
      wanted: ">= 90 %",
      seen: judged.length > 0 ? `${percent(worst.held)} (${worst.cell})` : worst.cell,
      met: worst.held >= 0.9,
      needs: needs(`${SMALLEST_CELL} measured takes in a cell`, judged.length > 0),
    },
    {
      what: "median half-width / the bound's",
      wanted: "<= 1.5",
      seen: ratio.toFixed(2),
      met: ratio <= 1.5,
      needs: needs(`${SMALLEST_CELL} measured takes`, measured.length >= SMALLEST_CELL),
    },
    {
      what: "position error / its bound",
      wanted: "<= 1.25",
      seen: `${perFrame.toFixed(3)} (${positions} frames)`,
      met: perFrame <= 1.25,
      // A few takes rule this root mean square: two full runs were 0.08 apart.
      needs: needs(`${FULL_RUN / 4} takes with white noise only`, white.length >= FULL_RUN / 4),
    },
    {
      what: "measured where the bound is below 1 %",
      wanted: ">= 97 %",
      seen: `${percent(found)} of ${sharp.length}`,
      met: found >= 0.97,
      needs: needs(`${SMALLEST_CELL} such takes`, sharp.length >= SMALLEST_CELL),
    },
    {
      what: "still takes with a front",
      wanted: "<= 5 of 500",
      seen: `${alarms} of ${still.length}`,
      met: alarms <= still.length / 100,
      needs: needs(`${FULL_STILL} still takes`, still.length >= FULL_STILL),
    },
  ];
}

function outcomesOf(trials: readonly Trial[]): string {
  const counts = new Map<string, number>();
  for (const { status, reason } of trials) {
    const key = reason ? `${status} (${reason})` : status;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].map(([key, count]) => `${key} ${count}`).join(", ");
}

function row(first: string, others: readonly string[]): void {
  console.log(`| ${[first, ...others].join(" | ")} |`);
}

function cells(): [string, (t: Trial) => boolean][] {
  const by = (label: string, of: (t: Trial) => number, edges: readonly number[]) =>
    edges.slice(0, -1).map((low, k): [string, (t: Trial) => boolean] => {
      const high = edges[k + 1];
      return [`${label} ${low}-${high}`, (t) => of(t) >= low && of(t) < high];
    });
  return [
    ["all", () => true],
    ...by("frames used", (t) => t.framesUsed, [3, 8, 20, 60, 150, 401]),
    ...by("px/frame", (t) => t.pixelsPerFrame, [0.1, 0.3, 1, 3, 10, 30, 100.1]),
    ...by("step to noise", (t) => t.stepToNoise, [1, 2.5, 6, 15, 50.1]),
    ...by("exposure", (t) => t.exposureFraction, [0.05, 0.35, 0.7, 1.01]),
    ["no wander", (t) => t.wander === 0],
    ...by("wander px", (t) => t.wander || Number.NaN, [0, 0.35, 0.7, 1.01]),
    ...by("wander correlation", (t) => (t.wander ? t.wanderCorrelation : Number.NaN), [0, 0.4, 0.81]),
  ];
}

function isMeasured(t: Trial): boolean {
  return t.status === "measured";
}

function covered(t: Trial): boolean {
  return Math.abs(t.error) <= t.halfWidth;
}

/** Half-width of the interval over 1.96 times the bound with scale and rate. */
function widthRatio(t: Trial): number {
  return t.halfWidth / (1.959964 * t.boundTotal);
}

function share(trials: readonly Trial[], holds: (t: Trial) => boolean): number {
  return trials.length ? trials.filter(holds).length / trials.length : Number.NaN;
}

function percent(value: number): string {
  return `${(100 * value).toFixed(1)} %`;
}
