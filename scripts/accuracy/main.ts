/** Accuracy trials on invented takes, drawn and rendered from seeds in memory.
 *
 *    pnpm accuracy [--takes N] [--seed S]
 *
 *  Prints the tables of the README. The first run's seeds are fixed below; a second run on seeds counted from
 *  --seed stands beside it. Exits 1 where a bar is missed; one that a shortened run cannot judge is
 *  printed as not judged. */
import { parseArgs } from "node:util";
import { tryAll } from "./in-parallel.js";
import { FULL_RUN, FULL_STILL, type Run, reportRuns } from "./report-runs.js";

/** First seed of the fixed run; fixed before the first full run and not chosen by its outcome. */
const FIXED_SEED = 20_261_124;
const BLOCK = 1_000_000;

const { values } = parseArgs({ options: { takes: { type: "string" }, seed: { type: "string" } } });
const takes = wholeNumber("takes", values.takes ?? String(FULL_RUN));
const runs = [{ name: "fixed seeds", first: FIXED_SEED }];
if (values.seed !== undefined)
  runs.push({ name: `seeds from ${values.seed}`, first: wholeNumber("seed", values.seed) });

const tried: Run[] = [];
for (const { name, first } of runs) {
  const seeds = (block: number, count: number) =>
    Array.from({ length: count }, (_, k) => first + block * BLOCK + k);
  tried.push({
    name,
    mixed: await tryAll(seeds(0, takes), {}),
    white: await tryAll(seeds(1, Math.ceil(takes / 4)), { whiteOnly: true }),
    still: await tryAll(seeds(2, Math.min(FULL_STILL, takes)), { still: true, flicker: 0.15 }),
  });
}
process.exitCode = reportRuns(tried) > 0 ? 1 : 0;

function wholeNumber(name: string, text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1)
    throw new RangeError(`--${name} must be a whole number >= 1, got ${text}`);
  return value;
}
