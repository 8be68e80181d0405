import { median } from "@frontpace/fit";
import { itemsOf } from "./draw-hard.js";
import { ITEMS } from "./items.js";
import type { Item } from "./scene.js";
import type { HardTrial } from "./try-hard.js";

/** Takes from which on an item is judged. */
const LEAST_JUDGED = 100;
const STATIC_JUDGED = 500;
const NORMAL_95 = 1.959964;

interface Row {
  readonly name: string;
  readonly item: Item | null;
  readonly trials: readonly HardTrial[];
}

/** Prints the table of the items, one row an item, and returns the number of bars missed.
 *
 *  A take in which any item forbids a speed counts for that item's row only where the share told is concerned, and
 *  for no row's coverage. A take of an item that excuses a wrong interval by a warning, with that warning, does not
 *  count for the coverage of the item beside it. */
export function reportHard(trials: readonly HardTrial[]): number {
  const rows: Row[] = [{ name: "all", item: null, trials }];
  for (const item of ITEMS) {
    const own = trials.filter(({ items }) => items.includes(item.name));
    if (own.length > 0) rows.push({ name: item.name, item, trials: own });
  }
  row([
    "item",
    "takes",
    "measured",
    "bounded (hold)",
    "not found",
    "bias/u",
    "rms z",
    "hold the truth",
    "median half-width / bound's",
    "told or warned",
    "most frequent warnings",
    "verdict",
  ]);
  row(["---", ...Array.from({ length: 9 }, () => "---:"), "---", "---"]);
  const verdicts = rows.map(printRow);
  console.log("");
  return verdicts.filter((verdict) => verdict.startsWith("MISSED")).length;
}

function printRow({ name, item, trials }: Row): string {
  const judged = trials.filter((trial) => counts(trial, item) && isMeasured(trial));
  const bounded = trials.filter(({ status }) => status === "bounded");
  const holding = bounded.filter(({ boundHolds }) => boundHolds);
  const verdict = verdictOn(item, trials, judged);
  const told = item && toldShare(item, trials);
  row([
    name,
    String(trials.length),
    String(trials.filter(isMeasured).length),
    bounded.length > 0 ? `${bounded.length} (${holding.length})` : "0",
    String(trials.filter(({ status }) => status === "not-found").length),
    judged.length > 0 ? `${biasOf(judged).toFixed(2)} ± ${biasErrorOf(judged).toFixed(2)}` : "",
    judged.length > 0
      ? Math.sqrt(
          mean(judged.map(({ error, standardUncertainty }) => (error / standardUncertainty) ** 2)),
        ).toFixed(2)
      : "",
    judged.length > 0 ? percent(share(judged, covered)) : "",
    judged.length > 0
      ? median(judged.map(({ halfWidth, bound }) => halfWidth / (NORMAL_95 * bound))).toFixed(2)
      : "",
    told ? `${told.code} ${percent(told.share)}` : "",
    frequentWarnings(trials),
    verdict,
  ]);
  return verdict;
}

function verdictOn(item: Item | null, trials: readonly HardTrial[], judged: readonly HardTrial[]): string {
  if (item?.noSpeed !== undefined) {
    if (trials.length < LEAST_JUDGED) return `not judged: needs ${LEAST_JUDGED} takes`;
    return share(trials, (trial) => isTold(trial, item)) >= 0.95 ? "met" : "MISSED: told in 95 %";
  }
  if (judged.length < LEAST_JUDGED) return `not judged: needs ${LEAST_JUDGED} measured`;
  const coverage = share(judged, covered);
  if (item?.excusedBy !== undefined) {
    const { excusedBy } = item;
    if (coverage >= 0.9) return "met";
    return share(judged, ({ warnings }) => warnings.includes(excusedBy)) >= 0.95
      ? `met by ${excusedBy}`
      : `MISSED: ${excusedBy} in 95 %`;
  }
  const missed = [
    ...(coverage < 0.92 || coverage > 0.98 ? ["hold 92-98 %"] : []),
    ...(Math.abs(biasOf(judged)) >= 0.2 ? ["bias below u / 5"] : []),
  ];
  return missed.length > 0 ? `MISSED: ${missed.join(", ")}` : "met";
}

/** Prints how often a take in which nothing runs reports a front; returns 1 where that is too often. */
export function reportStill(trials: readonly HardTrial[]): number {
  row(["disturbance", "takes", "with a front", "of these measured", "bounded"]);
  row(["---", "---:", "---:", "---:", "---:"]);
  const line = (name: string, own: readonly HardTrial[]) => {
    const alarms = own.filter(({ status }) => status !== "not-found");
    const measured = alarms.filter(isMeasured).length;
    row([name, ...[own.length, alarms.length, measured, alarms.length - measured].map(String)]);
    return alarms.length;
  };
  for (const { name } of ITEMS.filter(({ inStill }) => inStill)) {
    const own = trials.filter(({ items }) => items.includes(name));
    if (own.length > 0) line(name, own);
  }
  const alarms = line("all", trials);
  const met = alarms <= trials.length / 100;
  const judged = trials.length >= STATIC_JUDGED;
  console.log(
    `\nat most 5 of 500 with a front: ${judged ? (met ? "met" : "MISSED") : `not judged: needs ${STATIC_JUDGED} static takes`}\n`,
  );
  return judged && !met ? 1 : 0;
}

/** Prints this program and the half-level script on the same takes, side by side. Takes in which no speed may be
 *  given are left out. */
export function reportBeside(trials: readonly HardTrial[]): void {
  row([
    "item",
    "takes",
    "frontpace: measured",
    "within 1 %",
    "within its interval",
    "median error",
    "half-level: a line",
    "within 1 %",
    "within its interval",
    "median error",
  ]);
  row(["---", ...Array.from({ length: 9 }, () => "---:")]);
  const fair = trials.filter(({ items }) => itemsOf(items).every(({ noSpeed }) => noSpeed === undefined));
  const line = (name: string, own: readonly HardTrial[]) => {
    const ours = own.filter(isMeasured);
    const theirs = own.flatMap(({ beside }) => (beside ? [beside] : []));
    const figures = (of: readonly { error: number; halfWidth: number }[]) => [
      String(of.length),
      percent(of.filter(({ error }) => Math.abs(error) <= 0.01).length / own.length),
      of.length > 0 ? percent(share(of, covered)) : "",
      of.length > 0 ? `${(100 * median(of.map(({ error }) => Math.abs(error)))).toPrecision(2)} %` : "",
    ];
    row([name, String(own.length), ...figures(ours), ...figures(theirs)]);
  };
  line("all", fair);
  for (const { name } of ITEMS) {
    const own = fair.filter(({ items }) => items.includes(name));
    if (own.length > 0) line(name, own);
  }
  console.log("");
}

/** Prints the takes that went wrong, each with what draws it again. */
export function listMisses(trials: readonly HardTrial[], still: boolean): void {
  for (const trial of trials) {
    const items = itemsOf(trial.items);
    const silent = items.find((item) => item.noSpeed !== undefined && !isTold(trial, item));
    let what = "";
    if (still) what = trial.status === "not-found" ? "" : "a front where nothing runs";
    else if (silent) what = `not told by ${silent.noSpeed}`;
    else if (items.some(({ noSpeed }) => noSpeed !== undefined)) continue;
    else if (isMeasured(trial)) what = covered(trial) ? "" : "misses the truth";
    else if (trial.boundHolds === false) what = "a lower bound above the truth";
    else if (trial.status === "not-found" && trial.bound < 0.02) what = "not found";
    if (what === "") continue;
    const { error, halfWidth, bound, framesUsed, pixelsPerFrame, stepToNoise, reason, warnings } = trial;
    console.log(
      [
        `${trial.items.join("+")}:${trial.seed}${still ? " --still" : ""}  ${what}`,
        isMeasured(trial) && !still
          ? `error ${percent(error)}, half-width ${percent(halfWidth)}, bound ${percent(bound)}`
          : `${trial.status} ${reason}${still ? "" : `, bound ${percent(bound)}`}`,
        `${framesUsed} frames, ${pixelsPerFrame.toFixed(2)} px/frame, step/noise ${stepToNoise.toFixed(1)}`,
        warnings.join(" "),
      ].join("; "),
    );
  }
  console.log("");
}

/** Whether a take counts for the coverage of an item's row; null for the row of all. */
function counts(trial: HardTrial, of: Item | null): boolean {
  return itemsOf(trial.items).every(
    (item) =>
      item.noSpeed === undefined &&
      (item === of || item.excusedBy === undefined || !trial.warnings.includes(item.excusedBy)),
  );
}

/** No speed, and the reason for it is said. */
function isTold({ status, reason, warnings }: HardTrial, { noSpeed = "" }: Item): boolean {
  return status !== "measured" && (reason === noSpeed || warnings.includes(noSpeed));
}

function toldShare(item: Item, trials: readonly HardTrial[]): { code: string; share: number } | null {
  const { noSpeed, excusedBy, mayRaise } = item;
  if (noSpeed !== undefined) return { code: noSpeed, share: share(trials, (trial) => isTold(trial, item)) };
  const code = excusedBy ?? mayRaise?.[0];
  return code === undefined
    ? null
    : { code, share: share(trials, ({ warnings }) => warnings.includes(code)) };
}

function frequentWarnings(trials: readonly HardTrial[]): string {
  const times = new Map<string, number>();
  for (const { warnings } of trials)
    for (const code of new Set(warnings)) times.set(code, (times.get(code) ?? 0) + 1);
  const most = [...times].sort((a, b) => b[1] - a[1]).slice(0, 3);
  return most.map(([code, count]) => `${code} ${Math.round((100 * count) / trials.length)} %`).join(", ");
}

function isMeasured({ status }: HardTrial): boolean {
  return status === "measured";
}

function covered({ error, halfWidth }: { error: number; halfWidth: number }): boolean {
  return Math.abs(error) <= halfWidth;
}

/** Mean error over the mean stated standard uncertainty. */
function biasOf(trials: readonly HardTrial[]): number {
  return mean(trials.map(({ error }) => error)) / mean(trials.map((trial) => trial.standardUncertainty));
}

/** Standard error of that bias by what the errors scatter: a take told to a few per cent weighs as much as hundreds told well. */
function biasErrorOf(trials: readonly HardTrial[]): number {
  const errors = trials.map(({ error }) => error);
  const middle = mean(errors);
  const scatter = Math.sqrt(mean(errors.map((error) => (error - middle) ** 2)));
  return scatter / Math.sqrt(errors.length) / mean(trials.map((trial) => trial.standardUncertainty));
}

function row(cells: readonly string[]): void {
  console.log(`| ${cells.join(" | ")} |`);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function share<T>(of: readonly T[], holds: (one: T) => boolean): number {
  return of.length > 0 ? of.filter(holds).length / of.length : Number.NaN;
}

function percent(value: number): string {
  return `${(100 * value).toFixed(1)} %`;
}
