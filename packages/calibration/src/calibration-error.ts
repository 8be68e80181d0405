export type CalibrationErrorCode =
  | "grid-absent"
  | "grid-cut-off"
  | "grid-blurred"
  | "wrong-count"
  | "too-few-points"
  | "coincident-points"
  | "points-in-line"
  | "lens-not-resolved"
  | "beyond-horizon"
  | "beyond-lens"
  | "invalid-value";

/** What a still or a list of points did not allow. Test `code`. */
export class CalibrationError extends Error {
  override readonly name = "CalibrationError";

  constructor(
    readonly code: CalibrationErrorCode,
    message: string,
  ) {
    super(message);
  }
}
