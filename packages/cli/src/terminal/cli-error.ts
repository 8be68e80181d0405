/** What the command line got wrong. Test `code`. */
export class CliError extends Error {
  override readonly name = "CliError";

  constructor(
    readonly code:
      | "invalid-option"
      | "repeated-option"
      | "option-missing"
      | "not-a-folder"
      | "output-is-take"
      | "modes-unreadable",
    message: string,
  ) {
    super(message);
  }
}
