/** What was wrong, where: filled as far as it applies. */
export interface PlannerErrorFields {
  /** Key of the request, or of the plan. */
  readonly key?: string;
  readonly value?: unknown;
  /** File as it was named. */
  readonly file?: string;
}

export type PlannerErrorCode =
  | "header-missing"
  | "unknown-column"
  | "missing-column"
  | "repeated-column"
  | "invalid-row"
  | "repeated-mode"
  | "modes-empty"
  | "rows-outside"
  | "invalid-value"
  | "speed-range-reversed"
  | "bits-missing"
  | "reference-missing"
  | "noise-unknown"
  | "memory-missing"
  | "no-mode-meets"
  | "unknown-material"
  | "no-crack-speed"
  | "no-elastic-constants"
  | "different-takes";

/** Every failure this package reports on purpose. Test `code`, not the class or the message. */
export class PlannerError extends Error {
  override readonly name = "PlannerError";

  constructor(
    readonly code: PlannerErrorCode,
    message: string,
    readonly fields: PlannerErrorFields = {},
  ) {
    super(message);
  }
}
