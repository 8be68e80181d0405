/** Commands that the README shows, with the output that it shows behind them. */
export const SHOWN =
  /(```sh\n(npx[^`]*? frontpace (?:measure|find|plan|calibrate|check|batch) [^`]*?)```\n(?:(?!```)[\s\S])*?```text\n)([\s\S]*?)```/g;

/** Arguments of the command behind its name. */
export function argumentsOf(command: string): string[] {
  return command.replace(/\\\n/g, " ").trim().split(/\s+/).slice(5);
}

/** What a command printed, as the README shows it: a batch says what became of takes as they are done, which may be in any order. */
export function asShown(printed: string): string {
  const [takes, ...rest] = printed.split("\n\n");
  return rest.length > 0 && / takes: .* failed\n*$/.test(printed)
    ? [takes.split("\n").sort().join("\n"), ...rest].join("\n\n")
    : printed;
}
