import type { Argument, Command, Option } from "commander";

/** What stands in a place of the command line: a file, a folder, one of some words, or a value that cannot be guessed. */
export type Completed = "file" | "folder" | "value" | readonly string[];

export interface CompletedOption {
  /** With its dashes; the long one last. */
  readonly names: readonly string[];
  readonly description: string;
  /** What follows it; null: nothing. */
  readonly value: Completed | null;
}

export interface CompletedCommand {
  readonly name: string;
  readonly description: string;
  readonly options: readonly CompletedOption[];
  /** What its arguments are; null: it has none. */
  readonly argument: Completed | null;
}

export interface CompletedProgram {
  readonly name: string;
  readonly options: readonly CompletedOption[];
  readonly commands: readonly CompletedCommand[];
}

/** Names of values and arguments that are files. */
const FILES = new Set(["file", "take", "still", "plan", "result"]);

/** The commands and options of a program as a shell needs them. */
export function completedWords(program: Command): CompletedProgram {
  const help = program.createHelp();
  const commands = help.visibleCommands(program);
  const names = commands.map((command) => command.name());
  const argumentOf = ([first]: readonly Argument[]): Completed | null => {
    if (first === undefined) return null;
    return first.name() === "command" ? names : completed(first.name(), first.argChoices);
  };
  const optionsOf = (command: Command) => help.visibleOptions(command).map(optionWords);
  return {
    name: program.name(),
    options: optionsOf(program),
    commands: commands.map((command) => ({
      name: command.name(),
      description: command.description(),
      options: optionsOf(command),
      argument: argumentOf(command.registeredArguments),
    })),
  };
}

function optionWords(option: Option): CompletedOption {
  const value = /[<[]([^>\].]+)/.exec(option.flags)?.[1];
  return {
    names: [option.short, option.long].filter((name) => name !== undefined),
    description: option.description,
    value: value === undefined ? null : completed(value, option.argChoices),
  };
}

function completed(name: string, choices: readonly string[] | undefined): Completed {
  if (choices) return choices;
  if (FILES.has(name)) return "file";
  return name === "folder" ? "folder" : "value";
}
