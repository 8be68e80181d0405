import { randomFrom } from "../../random.js";
import { itemsOf } from "./draw-hard.js";
import { canRunHalfLevel } from "./half-level.js";
import { compatible, ITEMS } from "./items.js";
import { listMisses, reportBeside, reportHard, reportStill } from "./report-hard.js";
import { type HardJob, tryAllHard } from "./try-hard.js";

export interface HardOptions {
  /** First seed. */
  readonly first: number;
  /** Takes per item, in the static table in all; null for the full run. */
  readonly takes: number | null;
  readonly beside: boolean;
  readonly misses: boolean;
}

const ALONE_PER_ITEM = 40;
const PAIRS_PER_ITEM = 16;
/** Static takes of a full run. */
export const FULL_STATIC = 500;
const BLOCK = 10_000;

/** Runs and prints the trials of difficult footage.
 *  @param which  all, alone, pairs, static, or names of items joined by commas, each tried alone
 *  @returns the number of bars missed */
export async function runHard(which: string, { first, takes, beside, misses }: HardOptions): Promise<number> {
  const tables = which === "all" ? ["alone", "pairs", "static"] : [which];
  const withScript = beside && canRunHalfLevel();
  if (beside && !withScript) console.log("python3 with NumPy is not there: no half-level script beside\n");
  let missed = 0;
  for (const table of tables) {
    const still = table === "static";
    const drawn = still
      ? staticJobs(first + 2_000_000, takes ?? FULL_STATIC)
      : table === "pairs"
        ? pairJobs(first + 1_000_000, takes ?? PAIRS_PER_ITEM)
        : aloneJobs(
            first,
            takes ?? ALONE_PER_ITEM,
            table === "alone" ? ITEMS.map(({ name }) => name) : table.split(","),
          );
    const jobs = drawn.map((job): HardJob => ({ ...job, still, beside: withScript && !still }));
    const trials = await tryAllHard(jobs);
    console.log(`${table}: ${trials.length} takes, seeds from ${first}\n`);
    missed += still ? reportStill(trials) : reportHard(trials);
    if (withScript && !still) reportBeside(trials);
    if (misses) listMisses(trials, still);
  }
  return missed;
}

type Drawn = Pick<HardJob, "items" | "seed">;

/** The seed of a take of an item does not depend on which other items are run. */
function aloneJobs(first: number, perItem: number, names: readonly string[]): Drawn[] {
  return itemsOf(names).flatMap((item) =>
    Array.from({ length: perItem }, (_, k) => ({
      items: [item.name],
      seed: first + ITEMS.indexOf(item) * BLOCK + k,
    })),
  );
}

/** Every item in turn with another that goes with it. */
function pairJobs(first: number, perItem: number): Drawn[] {
  return Array.from({ length: perItem * ITEMS.length }, (_, k) => {
    const one = ITEMS[k % ITEMS.length];
    const other = randomFrom(first + k).pick(ITEMS.filter((item) => compatible(one, item)));
    return { items: [one.name, other.name], seed: first + k };
  });
}

/** One disturbance or two, nothing runs. */
function staticJobs(first: number, takes: number): Drawn[] {
  const items = ITEMS.filter(({ inStill }) => inStill);
  return Array.from({ length: takes }, (_, k) => {
    const one = items[k % items.length];
    const random = randomFrom(first + k);
    const other = random.pick(items.filter((item) => compatible(one, item)));
    return { items: random.uniform() < 0.5 ? [one.name] : [one.name, other.name], seed: first + k };
  });
}
