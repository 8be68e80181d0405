import { Option } from "commander";
import { CliError } from "../terminal/cli-error.js";

/** An option that takes one value, once.
 *  @param choices  the values there are, where they can be listed: for completion; what reads the value checks it
 *  @throws CliError `repeated-option`, as it is read */
export function single(flags: string, description: string, choices?: readonly string[]): Option {
  const option = new Option(flags, description);
  if (choices) option.choices(choices);
  return option.argParser((text: string, earlier: string | undefined) => {
    if (earlier === undefined) return text;
    throw new CliError(
      "repeated-option",
      `${option.long} is given twice, as "${earlier}" and "${text}": give it once`,
    );
  });
}
