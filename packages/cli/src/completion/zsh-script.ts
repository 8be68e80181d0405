import type { Completed, CompletedOption, CompletedProgram } from "./completed-words.js";

/** Completion for zsh, by its `_arguments`. */
export function zshScript({ name, options, commands }: CompletedProgram): string {
  const described = commands.map(
    (command) => `    ${quoted(`${command.name}:${command.description.replace(/:/g, "\\:")}`)}`,
  );
  const cases = commands.map((command) => {
    const argument =
      command.argument === null ? [] : [quoted(`*:${command.name}:${action(command.argument)}`)];
    const specs = [...command.options.flatMap(optionSpecs), ...argument];
    return `    ${command.name})\n      _arguments -s \\\n        ${specs.join(" \\\n        ")} ;;`;
  });
  return `#compdef ${name}
# Completion of ${name} for zsh. In ~/.zshrc, behind compinit: eval "$(${name} completion zsh)"
_${name}() {
  local curcontext="$curcontext" state line
  typeset -A opt_args
  local -a commands=(
${described.join("\n")}
  )
  _arguments -C ${options.flatMap(optionSpecs).join(" ")} '1:command:->command' '*::argument:->argument' && return
  if [[ $state == command ]]; then
    _describe command commands
    return
  fi
  case $line[1] in
${cases.join("\n")}
  esac
}
if [[ $funcstack[1] == _${name} ]]; then _${name} "$@"; else compdef _${name} ${name}; fi
`;
}

/** Each may be given again: which may, the command says. */
function optionSpecs({ names, description, value }: CompletedOption): string[] {
  const text = description.replace(/[[\]\\]/g, "\\$&").replace(/:/g, "\\:");
  const follows = value === null ? "" : `:value:${action(value)}`;
  return names.map((name) => quoted(`*${name}[${text}]${follows}`));
}

function action(value: Completed): string {
  if (value === "value") return " ";
  if (value === "file") return "_files";
  return value === "folder" ? "_files -/" : `(${value.join(" ")})`;
}

function quoted(text: string): string {
  return `'${text.replace(/'/g, "'\\''")}'`;
}
