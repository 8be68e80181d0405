import type { Trial } from "./try-take.js";

interface Bar {
  readonly what: string;
  readonly value: string;
  readonly wanted: string;
  readonly met: boolean;
}

/** A cell with fewer measured takes than this is printed but not judged. */
const SMALLEST_CELL = 200;

/** Prints the tables of one run and returns the number of bars missed. */
export function reportRun(
  name: string,
  mixed: readonly Trial[],
  white: readonly Trial[],
  still: readonly Trial[],
): number {
  console.log(
    `\n# ${name}: ${mixed.length} takes, ${white.length} with white noise only, ${still.length} still\n`,
  );
  const measured = mixed.filter(isMeasured);
  console.log("| cell | takes measured | holds the truth | median half-width / bound's |");
  console.log("| --- | ---: | ---: | ---: |");
  const worst = { coverage: 1, cell: "" };
  for (const [cell, belongs] of cells()) {
    const inCell = measured.filter(belongs);
    if (inCell.length === 0) continue;
    const coverage = share(inCell, covered);
    console.log(
      `| ${cell} | ${inCell.length} | ${percent(coverage)} | ${median(inCell.map(widthRatio)).toFixed(2)} |`,
    );
    if (inCell.length >= SMALLEST_CELL && coverage < worst.coverage) Object.assign(worst, { coverage, cell });
  }
  const coverage = share(measured, covered);
  const ratio = median(measured.map(widthRatio));
  const whiteMeasured = white.filter(isMeasured);
  const squares = whiteMeasured.reduce((sum, t) => sum + t.positionSquares, 0);
  const positions = whiteMeasured.reduce((sum, t) => sum + t.positionCount, 0);
  const perFrame = Math.sqrt(squares / positions);
  const sharp = white.filter((t) => t.boundFit < 0.01);
  const found = share(sharp, isMeasured);
  const false_ = still.filter((t) => t.status !== "not-found").length;
  const bars: Bar[] = [
    bar("takes measured", String(measured.length), ">= 2000", measured.length >= 2000),
    bar("interval holds the truth", percent(coverage), "93.5-97 %", coverage >= 0.935 && coverage <= 0.97),
    bar(
      `worst cell of ${SMALLEST_CELL}+ takes (${worst.cell})`,
      percent(worst.coverage),
      ">= 90 %",
      worst.coverage >= 0.9,
    ),
    bar("median half-width / the bound's", ratio.toFixed(2), "<= 1.5", ratio <= 1.5),
    bar(`position error / bound, ${positions} frames`, perFrame.toFixed(3), "<= 1.25", perFrame <= 1.25),
    bar(
      `measured where the bound is below 1 % (${sharp.length} takes)`,
      percent(found),
      ">= 97 %",
      found >= 0.97,
    ),
    bar(
      `still takes with a front, of ${still.length}`,
      String(false_),
      "<= 5 of 500",
      false_ <= still.length / 100,
    ),
  ];
  console.log("\n| bar | seen | wanted | |\n| --- | ---: | ---: | --- |");
  for (const { what, value, wanted, met } of bars)
    console.log(`| ${what} | ${value} | ${wanted} | ${met ? "met" : "MISSED"} |`);
  const outcomes = new Map<string, number>();
  for (const t of mixed) {
    const key = t.status === "not-found" ? `not-found (${t.reason})` : t.status;
    outcomes.set(key, (outcomes.get(key) ?? 0) + 1);
  }
  console.log(`\noutcomes: ${[...outcomes].map(([key, count]) => `${key} ${count}`).join(", ")}`);
  return bars.filter(({ met }) => !met).length;
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

function bar(what: string, value: string, wanted: string, met: boolean): Bar {
  return { what, value, wanted, met };
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

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

function percent(value: number): string {
  return `${(100 * value).toFixed(1)} %`;
}
