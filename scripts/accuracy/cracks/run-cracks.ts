import { type BranchOutcome, tryAllCracks } from "./try-cracks.js";

interface Row {
  readonly name: string;
  /** Depth of a crack over the noise of a pixel. */
  readonly contrast: number;
  /** Bar of the root mean square error of the speed of unflagged branches. */
  readonly speed: number;
}

const ROWS: readonly Row[] = [
  { name: "3-6 tips, contrast to noise 16", contrast: 16, speed: 0.01 },
  { name: "3-6 tips, contrast to noise 5", contrast: 5, speed: 0.02 },
];
/** Contrasts on either side of 3, below which a number is refused. */
const BELOW = [1, 1.5, 2, 2.5, 2.8];
const ABOVE = [3.2, 4];
const COVERAGE = [0.9, 0.98] as const;
const LEAST_UNFLAGGED = 0.8;
export const FULL_CRACKS = 1000;

/** Prints the table of cracks that branch.
 *  @returns how many bars were missed */
export async function runCracks(takes: number, first: number): Promise<number> {
  let missed = 0;
  console.log(
    "case | takes | branches | speed of unflagged, rms | 95 % intervals that hold | length unflagged | flagged | without a speed | missed | invented",
  );
  for (const [k, { name, contrast, speed }] of ROWS.entries()) {
    const block = first + 1_000_000 * k;
    const outcomes = await tryAllCracks(
      Array.from({ length: takes }, (_, i) => ({ seed: block + i, contrast })),
    );
    const branches = outcomes.flatMap((outcome) => outcome.branches);
    const sure = branches.filter(({ found }) => found === "unflagged");
    const rms = Math.sqrt(mean(sure.map(({ error }) => (error ?? 0) ** 2)));
    const holds = mean(sure.map(({ error, halfWidth }) => Number(Math.abs(error ?? 0) <= (halfWidth ?? 0))));
    const length = (some: readonly BranchOutcome[]) => some.reduce((sum, one) => sum + one.length, 0);
    const share = length(sure) / length(branches);
    const count = (found: BranchOutcome["found"]) => branches.filter((one) => one.found === found).length;
    const invented = outcomes.reduce((sum, outcome) => sum + outcome.invented, 0);
    console.log(
      [
        name,
        takes,
        branches.length,
        percent(rms),
        percent(holds),
        percent(share),
        count("flagged"),
        count("no-speed"),
        count("missed"),
        invented,
      ].join(" | "),
    );
    const failures = [
      ...(rms > speed ? [`speed ${percent(rms)}, bar ${percent(speed)}`] : []),
      ...(holds < COVERAGE[0] || holds > COVERAGE[1] ? [`coverage ${percent(holds)}`] : []),
      ...(share < LEAST_UNFLAGGED ? [`${percent(share)} of the length unflagged`] : []),
    ];
    for (const failure of failures) console.log(`    missed: ${failure}`);
    missed += failures.length;
  }
  return missed + (await runFaint(takes, first + 1_000_000 * ROWS.length));
}

/** Prints how many takes of faint cracks are refused a number, and how many of those that are not so faint are not.
 *  @returns how many of the two bars were missed */
async function runFaint(takes: number, first: number): Promise<number> {
  const refusedOf = async (contrasts: readonly number[], block: number) => {
    const jobs = Array.from({ length: takes }, (_, i) => ({
      seed: block + i,
      contrast: contrasts[i % contrasts.length],
    }));
    return (await tryAllCracks(jobs)).flatMap(({ refused }) => refused ?? []);
  };
  const below = await refusedOf(BELOW, first);
  const reasons = [...new Set(below)].map((one) => `${one} ${below.filter((other) => other === one).length}`);
  console.log(`contrast below 3: says that it cannot, ${below.length} of ${takes} (${reasons.join(", ")})`);
  const above = await refusedOf(ABOVE, first + 1_000_000);
  console.log(`contrast ${ABOVE.join(" and ")}: has branches, ${takes - above.length} of ${takes}`);
  return Number(below.length < takes) + Number(above.length > 0);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function percent(share: number): string {
  return `${(100 * share).toPrecision(3)} %`;
}
