/** Runs listed, at most. */
const MOST_RUNS = 6;

/** Frame numbers as runs, "3 to 7, 12, 20 to 31"; long lists are cut short, with the last number.
 *  @param numbers  increasing */
export function frameRanges(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run && number === run[1] + 1) run[1] = number;
    else runs.push([number, number]);
  }
  const said = runs.slice(0, MOST_RUNS).map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`));
  return runs.length > MOST_RUNS
    ? `${said.join(", ")} and others up to ${runs.at(-1)?.[1]}`
    : said.join(", ");
}
