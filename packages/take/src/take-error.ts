/** What was wrong, where: filled as far as it applies. */
export interface TakeErrorFields {
  /** Key of take.json, or option of the same name. */
  readonly key?: string;
  readonly value?: unknown;
  /** File or folder, as it was given. */
  readonly file?: string;
}

/** Every failure this package reports on purpose. Test `code`, not the class or the message. */
export class TakeError extends Error {
  override readonly name = "TakeError";

  constructor(
    readonly code: TakeErrorCode,
    message: string,
    readonly fields: TakeErrorFields = {},
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

export type TakeErrorCode =
  | "take-file-unreadable"
  | "take-file-not-json"
  | "unknown-key"
  | "invalid-value"
  | "rate-missing"
  | "scale-missing"
  | "air-temperature-missing"
  | "invalid-timestamps"
  | "model-not-determined"
  | "path-outside"
  | "path-empty"
  | "width-outside"
  | "cell-outside"
  | "frames-outside"
  | "region-outside"
  | "exposure-too-long"
  | "light-pulse-too-long"
  | "file-unreadable"
  | "file-not-json"
  | "earlier-not-measured"
  | "scale-twice"
  | "calibration-other-size"
  | "calibration-other-medium"
  | "calibration-not-here"
  | "sensor-exceeded"
  | "same-still"
  | "point-outside"
  | "output-not-writable"
  | "copy-not-empty"
  | "nothing-to-show"
  | "tips-missing"
  | "footage-missing"
  | "other-footage"
  | "animation-too-large"
  | "samples-not-finite"
  | "not-finite";
