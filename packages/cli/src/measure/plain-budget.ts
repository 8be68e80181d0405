/** The arguments with `--budget all` and `--budget=all` as plain `--budget`. An option whose value may be left out would
 *  take the folder of the take for it in `--budget tile-07`.
 *  @param argv  as given, behind the name of the program
 *  @returns the same up to and behind `--`, where nothing is an option */
export function plainBudget(argv: readonly string[]): string[] {
  const end = argv.indexOf("--");
  const isOption = (at: number) => end < 0 || at < end;
  return argv.flatMap((word, at) => {
    if (!isOption(at)) return [word];
    if (word === "--budget=all") return ["--budget"];
    return word === "all" && argv[at - 1] === "--budget" ? [] : [word];
  });
}
