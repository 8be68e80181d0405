import { Argument, type Command } from "commander";
import { manualText, usualExits } from "./arguments/manual-text.js";

const manual = manualText({
  notes: [
    "The script is made from the commands and options of the version that prints it. For bash and zsh the line of the example, with its shell, belongs into ~/.bashrc or ~/.zshrc (behind compinit); for fish: frontpace completion fish > ~/.config/fish/completions/frontpace.fish",
  ],
  example: { lines: ['eval "$(frontpace completion bash)"'] },
  exitCodes: { 0: "printed", ...usualExits },
});

/** `frontpace completion`; what it does is passed in. */
export function addCompletionCommand(program: Command, action: (shell: string) => Promise<void>): void {
  program
    .command("completion")
    .description("Prints a script that completes commands, options and files in a shell")
    .addArgument(new Argument("<shell>", "bash, zsh or fish").choices(["bash", "zsh", "fish"]))
    .addHelpText("after", manual)
    .action((shell: string) => action(shell));
}
