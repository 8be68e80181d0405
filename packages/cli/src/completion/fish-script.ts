import type { Completed, CompletedOption, CompletedProgram } from "./completed-words.js";

/** Completion for fish, 3.0 and later. */
export function fishScript({ name, options, commands }: CompletedProgram): string {
  const within = (command: string) => `complete -c ${name} -n '__${name}_in ${command}'`;
  const lines = commands.flatMap((command) => [
    `${within("")} -a ${command.name} -d ${quoted(command.description)}`,
    ...command.options.map((option) => `${within(command.name)} ${optionFlags(option)}`),
    ...(command.argument === null ? [] : [`${within(command.name)} ${wanted(command.argument)}`]),
  ]);
  return `# Completion of ${name} for fish: ${name} completion fish > ~/.config/fish/completions/${name}.fish
# Whether the first word that is no option is the one given; without one, whether there is none yet.
function __${name}_in
  for word in (commandline -opc)[2..-1]
    string match -q -- '-*' $word; and continue
    test "$word" = "$argv[1]"
    return
  end
  test -z "$argv[1]"
end
complete -c ${name} -f
${options.map((option) => `${within("")} ${optionFlags(option)}`).join("\n")}
${lines.join("\n")}
`;
}

function optionFlags({ names, description, value }: CompletedOption): string {
  const flags = names.map((name) => (name.startsWith("--") ? `-l ${name.slice(2)}` : `-s ${name.slice(1)}`));
  const follows = value === null ? [] : value === "value" ? ["-x"] : ["-r", wanted(value)];
  return [...flags, ...follows, "-d", quoted(description)].join(" ");
}

function wanted(value: Completed): string {
  if (value === "value") return "-f";
  if (value === "file") return "-F";
  return value === "folder" ? "-f -a '(__fish_complete_directories)'" : `-f -a ${quoted(value.join(" "))}`;
}

function quoted(text: string): string {
  return `'${text.replace(/[\\']/g, "\\$&")}'`;
}
