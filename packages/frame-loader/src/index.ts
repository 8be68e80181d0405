export { type ClipPictures, encodeClip } from "./clips/encode-clip.js";
export { parseRawLayout, type RawLayout } from "./containers/raw-frames.js";
export { FrameLoadError, type FrameLoadErrorCode, type FrameLoadErrorDetails } from "./frame-load-error.js";
export { type OpenFramesOptions, openFrames } from "./open-frames.js";
export { checkRegular, unreadableFrame } from "./samples/frame-faults.js";
export type { Transfer } from "./samples/transfer.js";
export { type FolderListing, listFolder } from "./stills/list-folder.js";
export { readStill, type Still } from "./stills/read-still.js";
export type {
  Frame,
  FrameRange,
  FrameSequence,
  FrameWarning,
  NumberedFrame,
  OpeningProgress,
  ReadOptions,
  Region,
  StillFile,
} from "./types.js";
