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
  return missed;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function percent(share: number): string {
  return `${(100 * share).toPrecision(3)} %`;
}
