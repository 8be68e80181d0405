import { Option } from "commander";
import { CliError } from "./cli-error.js";

/** An option that takes one value, once.
 *  @throws CliError `repeated-option`, as it is read */
export function single(flags: string, description: string): Option {
  const option = new Option(flags, description);
  return option.argParser((text: string, earlier: string | undefined) => {
    if (earlier === undefined) return text;
    throw new CliError(
      "repeated-option",
      `${option.long} is given twice, as "${earlier}" and "${text}": give it once`,
    );
  });
}
