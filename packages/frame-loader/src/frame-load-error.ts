/** What went wrong, as a word that stays the same from one release to the next. */
export type FrameLoadErrorCode =
  | "not-a-folder"
  | "unreadable-folder"
  | "no-frames"
  | "ambiguous-sequence"
  | "repeated-number"
  | "number-too-large"
  | "unreadable-frame"
  | "corrupt-frame"
  | "unsupported-frame"
  | "mixed-frames"
  | "too-many-bad-frames"
  | "unsupported-transfer"
  | "changed-frame"
  | "unknown-container"
  | "decoder-missing"
  | "encoder-missing"
  | "encoder-failed"
  | "not-raw"
  | "closed";

/** Fields of a {@link FrameLoadError} beside its code and message. */
export interface FrameLoadErrorDetails {
  /** Name of the file at fault inside its folder; absent where the folder itself is. */
  readonly file?: string;
  /** The file it clashes with, for `repeated-number` and `mixed-frames`. */
  readonly otherFile?: string;
  /** What is wrong with the file, as it reads behind its name, for `corrupt-frame` and `unreadable-frame`. */
  readonly reason?: string;
  /** The error underneath, where there is one. */
  readonly cause?: unknown;
}

/** A folder or a still that cannot be used. Test `code`; the message says which file, what is wrong with
 *  it and what to do. */
export class FrameLoadError extends Error {
  override readonly name = "FrameLoadError";
  readonly code: FrameLoadErrorCode;
  readonly file?: string;
  readonly otherFile?: string;
  readonly reason?: string;

  constructor(code: FrameLoadErrorCode, message: string, details: FrameLoadErrorDetails = {}) {
    super(message, "cause" in details ? { cause: details.cause } : undefined);
    this.code = code;
    if (details.file !== undefined) this.file = details.file;
    if (details.otherFile !== undefined) this.otherFile = details.otherFile;
    if (details.reason !== undefined) this.reason = details.reason;
  }
}
