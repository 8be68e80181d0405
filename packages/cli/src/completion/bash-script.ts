import type { Completed, CompletedOption, CompletedProgram } from "./completed-words.js";

/** Completion for bash, 3.2 and later. */
export function bashScript({ name, options, commands }: CompletedProgram): string {
  const values = commands.flatMap((command) =>
    command.options
      .filter(({ value }) => value !== null)
      .map(({ names, value }) => {
        const given = names.map((option) => `"${command.name} ${option}"`).join("|");
        return `    ${given}) ${completing(value!)}; return ;;`;
      }),
  );
  const words = commands.map(
    ({ name, options, argument }) =>
      `    ${name}) if [[ $word == -* ]]; then ${completing(namesOf(options))}; else ${completing(argument ?? [])}; fi ;;`,
  );
  const first = completing([...commands.map(({ name }) => name), ...namesOf(options)]);
  return `# Completion of ${name} for bash. In ~/.bashrc: eval "$(${name} completion bash)"
_${name}() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command= k
  local IFS=$'\\n'
  COMPREPLY=()
  for ((k = 1; k < COMP_CWORD; k++)); do
    if [[ \${COMP_WORDS[k]} != -* ]]; then command=\${COMP_WORDS[k]}; break; fi
  done
  case "$command $before" in
${values.join("\n")}
  esac
  case $command in
    "") ${first} ;;
${words.join("\n")}
  esac
}
complete -F _${name} ${name}
`;
}

function namesOf(options: readonly CompletedOption[]): string[] {
  return options.flatMap(({ names }) => names);
}

function completing(value: Completed): string {
  if (value === "value") return ":";
  if (value === "file") return 'compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -- "$word"))';
  if (value === "folder") return 'compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -d -- "$word"))';
  return value.length === 0 ? ":" : `COMPREPLY=($(compgen -W $'${value.join("\\n")}' -- "$word"))`;
}
