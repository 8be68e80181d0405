import type { Command } from "commander";
import { bashScript } from "./bash-script.js";
import { completedWords } from "./completed-words.js";
import { fishScript } from "./fish-script.js";
import { zshScript } from "./zsh-script.js";

/** The script that completes `program` in a shell.
 *  @throws RangeError for a shell that is not known */
export function completionScript(shell: string, program: Command): string {
  const words = completedWords(program);
  if (shell === "bash") return bashScript(words);
  if (shell === "zsh") return zshScript(words);
  if (shell === "fish") return fishScript(words);
  throw new RangeError(`shell must be bash, zsh or fish, got "${shell}"`);
}
